using LiveStems.Albums.Model;
using LiveStems.Dsp;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Planning;

/// <summary>The gains with which paths enter the song bus: level, pan, mute and, while listening, solo.</summary>
internal static class MixGains
{
    /// <summary>Gain of the left and the right side.</summary>
    public readonly record struct Pair(float Left, float Right);

    /// <summary>Gains with which a stem enters its chain: its polarity, and one channel at the level of both.</summary>
    public static Pair OfInput(Stem stem, bool isMono)
    {
        float centre = isMono ? PanLaw.MonoCentre : 1;
        Polarity polarity = stem.Placement.Polarity;
        return new Pair(
            polarity is Polarity.Inverted or Polarity.LeftInverted ? -centre : centre,
            polarity is Polarity.Inverted or Polarity.RightInverted ? -centre : centre);
    }

    /// <summary>Gains of a stem. Mute wins over solo; solo is for listening only and never part of a render.</summary>
    public static Pair OfStem(Song song, Stem stem, bool isMono, bool isLive)
    {
        bool isSilencedBySolo = isLive && !stem.Placement.Soloed && song.Stems.Any(other => other.Placement.Soloed);
        if (stem.Placement.Muted || isSilencedBySolo)
        {
            return new Pair(0, 0);
        }

        (float left, float right) = PanLaw.Gains(stem.Placement, isMono);
        return new Pair(left, right);
    }

    /// <summary>Gains of a stem's own sound: none while only its parallels are heard.</summary>
    public static Pair OfDry(Pair stem, Stem settings) => settings.IsDryOut ? new Pair(0, 0) : stem;

    /// <summary>Gains of a parallel: those of its stem, times its blend.</summary>
    public static Pair OfParallel(Pair stem, Parallel parallel)
    {
        float blend = parallel.Muted ? 0 : (float)Decibels.ToAmplitude(parallel.BlendDb);
        return new Pair(stem.Left * blend, stem.Right * blend);
    }
}
