using LiveStems.Albums.Model;

namespace LiveStems.Engine.RealTime;

/// <summary>Whether songs are heard as they stand on the album; the control thread sets it, the audio thread asks.</summary>
internal sealed class AlbumListening
{
    private volatile bool isOn;

    /// <summary>True while they are.</summary>
    public bool IsOn
    {
        get => isOn;
        set => isOn = value;
    }
}

/// <summary>
/// How a playing song stands on the album: where it is cut, how it fades, and how it joins the one before. Where a cut or a
/// jump would make a step, the gain goes over in 20 ms.
/// </summary>
internal sealed class SongOnAlbum
{
    private readonly AlbumListening listening;
    private readonly SongEdges edges;
    private readonly EdgeFade fadeIn;
    private readonly EdgeFade fadeOut;
    private readonly EdgeFade crossing;
    private readonly float step;
    private float gain = float.NaN;

    /// <param name="edges">How the song begins and ends.</param>
    /// <param name="before">The edges of the song before it; null for none.</param>
    /// <param name="frames">Frames of its longest stem.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="fadeFrames">Length of a short fade.</param>
    /// <param name="listening">Whether any of this is heard.</param>
    public SongOnAlbum(SongEdges edges, SongEdges? before, long frames, int sampleRate, int fadeFrames, AlbumListening listening)
    {
        this.listening = listening;
        long start = ToFrames(edges.TrimStartSeconds, sampleRate);
        long end = frames - ToFrames(edges.TrimEndSeconds, sampleRate);
        long fades = ToFrames(edges.FadeInSeconds + edges.FadeOutSeconds, sampleRate);

        // Edges that leave nothing of the song are refused when it is delivered; here it is heard whole.
        this.edges = start + fades < end ? edges : SongEdges.Usual;
        Start = start + fades < end ? start : 0;
        End = start + fades < end ? end : frames;
        fadeIn = new EdgeFade(this.edges.FadeInSeconds, this.edges.FadeInShape, sampleRate);
        fadeOut = new EdgeFade(this.edges.FadeOutSeconds, this.edges.FadeOutShape, sampleRate);
        crossing = new EdgeFade(before?.CrossFadeSeconds ?? 0, FadeShape.EqualPower, sampleRate);
        Gap = before is null || Crossed > 0 ? 0 : ToFrames(edges.GapBeforeSeconds, sampleRate);
        step = 1f / (2 * fadeFrames);
    }

    /// <summary>True while the album decides.</summary>
    public bool IsOn => listening.IsOn;

    /// <summary>First frame of the song that is heard.</summary>
    public long Start { get; }

    /// <summary>The frame behind the last one.</summary>
    public long End { get; }

    /// <summary>Frames in which it and the song before sound together.</summary>
    public long Crossed => crossing.Frames;

    /// <summary>Frames of silence before it.</summary>
    public long Gap { get; }

    /// <summary>Cuts and fades what is heard of the song, in place.</summary>
    /// <param name="left">Left side.</param>
    /// <param name="right">Right side.</param>
    /// <param name="first">Frame of the song that the block starts with; below 0 while the plan fills.</param>
    public void Apply(Span<float> left, Span<float> right, long first)
    {
        bool isOn = IsOn;
        bool isPlain = !isOn || (first >= Start + fadeIn.Frames && first + left.Length <= End - fadeOut.Frames);
        if (isPlain && (gain == 1 || float.IsNaN(gain)))
        {
            gain = 1;
            return;
        }

        for (int i = 0; i < left.Length; i++)
        {
            float wanted = isOn ? (float)GainAt(first + i) : 1;
            gain = float.IsNaN(gain) ? wanted : gain + Math.Clamp(wanted - gain, -step, step);
            left[i] *= gain;
            right[i] *= gain;
        }
    }

    /// <summary>Gains of equal power at a frame of the time in which two songs sound together.</summary>
    /// <param name="frame">From the first frame of the later song on.</param>
    public (float Arriving, float Leaving) CrossedAt(long frame) =>
        ((float)crossing.GainAt(frame), (float)crossing.GainAt(Crossed - frame - 1));

    private double GainAt(long frame)
    {
        if (frame < Start)
        {
            return Start > 0 || fadeIn.Frames > 0 ? 0 : 1;
        }

        if (frame >= End)
        {
            // What rings on behind a song that is neither cut nor faded is part of it.
            return edges.TrimEndSeconds > 0 || fadeOut.Frames > 0 ? 0 : 1;
        }

        return fadeIn.GainAt(frame - Start) * fadeOut.GainAt(End - frame - 1);
    }

    private static long ToFrames(double seconds, int sampleRate) => (long)Math.Round(seconds * sampleRate);
}
