using System.Globalization;

namespace LiveStems.Analysis.Delivery;

/// <summary>Places on a disc and in a cue sheet: minutes, seconds and frames of a 75th of a second (IEC 60908).</summary>
public static class DiscTime
{
    /// <summary>Frames in a second.</summary>
    public const int FramesPerSecond = 75;

    /// <summary>True when a frame holds a whole number of samples at a rate.</summary>
    public static bool Divides(int sampleRate) => sampleRate % FramesPerSecond == 0;

    /// <summary>Samples in a frame: 588 at 44.1 kHz.</summary>
    public static int SamplesPerFrame(int sampleRate) => sampleRate / FramesPerSecond;

    /// <summary>The boundary at or behind a sample.</summary>
    public static long Up(long sample, int sampleRate)
    {
        int size = SamplesPerFrame(sampleRate);
        return (sample + size - 1) / size * size;
    }

    /// <summary>The boundary at or before a sample.</summary>
    public static long Down(long sample, int sampleRate) => sample / SamplesPerFrame(sampleRate) * SamplesPerFrame(sampleRate);

    /// <summary>A boundary as "mm:ss:ff"; minutes go on past 99.</summary>
    public static string Written(long sample, int sampleRate)
    {
        long frames = sample / SamplesPerFrame(sampleRate);
        return string.Create(CultureInfo.InvariantCulture, $"{frames / (60 * FramesPerSecond):00}:{frames / FramesPerSecond % 60:00}:{frames % FramesPerSecond:00}");
    }
}
