using LiveStems.Dsp;
using Xunit;

namespace LiveStems.Tests.App.Demo;

/// <summary>A rendered stem and plain measurements of it: Goertzel's algorithm under Hann windows, nothing of the program's own.</summary>
internal sealed class StemSound(float[][] channels, int sampleRate)
{
    public float[][] Channels { get; } = channels;

    public float[] Left => Channels[0];

    public float[] Right => Channels[^1];

    public int SampleRate { get; } = sampleRate;

    public double Peak => Channels.Max(channel => channel.Max(Math.Abs));

    /// <summary>
    /// Mean density between two frequencies over a stretch of time, both channels, in dB of an arbitrary reference: the
    /// same for every band, so that only differences mean anything. Noise of even density gives the same value in all
    /// bands and with all windows.
    /// </summary>
    public double Density(double lowHz, double highHz, double start, double end, int window = 2048)
    {
        int first = Math.Max(0, (int)(start * SampleRate));
        int last = Math.Min(Left.Length, (int)(end * SampleRate));
        Assert.True(last - first >= window, "the stretch is shorter than the window");

        // The main lobe of the window is four bins wide: points every two bins miss nothing.
        double spacing = 2.0 * SampleRate / window;
        int points = Math.Max(1, (int)Math.Min(24, (highHz - lowHz) / spacing));
        int hop = Math.Max(window / 2, (last - first) / 160);
        double sum = 0;
        int count = 0;
        for (int at = first; at + window <= last; at += hop)
        {
            foreach (float[] channel in Channels)
            {
                for (int point = 0; point < points; point++)
                {
                    double hertz = lowHz + (highHz - lowHz) * (point + 0.5) / points;
                    sum += Power(channel.AsSpan(at, window), hertz);
                    count++;
                }
            }
        }

        return Decibels.FromPower(sum / count / window + 1e-20);
    }

    /// <summary>RMS over a stretch of time in dBFS.</summary>
    public double Rms(double start, double end)
    {
        int first = Math.Max(0, (int)(start * SampleRate));
        int last = Math.Min(Left.Length, (int)(end * SampleRate));
        double sum = 0;
        foreach (float[] channel in Channels)
        {
            for (int i = first; i < last; i++)
            {
                sum += channel[i] * channel[i];
            }
        }

        return Decibels.FromPower(sum / Channels.Length / (last - first) + 1e-20);
    }

    // Power at one frequency by Goertzel's recurrence under a Hann window.
    private double Power(ReadOnlySpan<float> samples, double hertz)
    {
        double omega = 2 * Math.PI * hertz / SampleRate;
        double forward = 2 * Math.Cos(omega);
        double turn = 2 * Math.Cos(2 * Math.PI / samples.Length);
        double once = 0;
        double twice = 0;
        double cosine = 1;
        double before = turn / 2;
        foreach (float sample in samples)
        {
            double now = 0.5 * (1 - cosine) * sample + forward * once - twice;
            twice = once;
            once = now;
            (cosine, before) = (turn * cosine - before, cosine);
        }

        return once * once + twice * twice - forward * once * twice;
    }
}
