using LiveStems.Albums.Model;

namespace LiveStems.Engine.RealTime;

/// <summary>A fade at one edge of a sound.</summary>
/// <param name="Frames">Its length; 0 for none.</param>
/// <param name="Shape">Its shape.</param>
public readonly record struct EdgeFade(long Frames, FadeShape Shape)
{
    /// <summary>A fade of so many seconds at a rate in hertz.</summary>
    public EdgeFade(double seconds, FadeShape shape, int sampleRate)
        : this((long)Math.Round(seconds * sampleRate), shape)
    {
    }

    /// <summary>Gain of a frame that has so many others, at least 0, between itself and the edge.</summary>
    public double GainAt(long between) => between < Frames ? FadeLaw.GainAt(Shape, (between + 0.5) / Frames) : 1;
}
