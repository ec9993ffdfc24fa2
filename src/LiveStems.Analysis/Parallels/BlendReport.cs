namespace LiveStems.Analysis.Parallels;

/// <summary>What a parallel does to the hits of its stem, alone and in the song.</summary>
/// <param name="Stem">Name of the stem.</param>
/// <param name="Parallel">Name of the parallel.</param>
/// <param name="BlendDb">Blend that it was measured at.</param>
/// <param name="FromSeconds">Start of the stretch that was measured.</param>
/// <param name="ToSeconds">Its end.</param>
/// <param name="InStem">Change of the hits in the stem alone.</param>
/// <param name="InSong">Change of the hits in the whole song, behind the song chain.</param>
/// <param name="StemLouderLu">How much louder the stem is with it.</param>
/// <param name="SongLouderLu">How much louder the song is with it.</param>
public sealed record BlendReport(
    string Stem,
    string Parallel,
    double BlendDb,
    double FromSeconds,
    double ToSeconds,
    OnsetGain InStem,
    OnsetGain InSong,
    double StemLouderLu,
    double SongLouderLu)
{
    /// <summary>Change of the onsets in the song once both are equally loud: what it buys, and not just level.</summary>
    public double FairOnsetDb => InSong.OnsetDb - SongLouderLu;
}
