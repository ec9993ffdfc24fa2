namespace LiveStems.App.Demo.Mixing;

/// <summary>Filters that move with the song, set anew every 64 frames.</summary>
internal static class SweepFilter
{
    private const int Interval = 64;

    /// <summary>A low-pass whose corner follows a curve over time in seconds.</summary>
    public static StereoTrack SweepLowPass(this StereoTrack track, Func<double, double> hertzAt, double q)
    {
        Biquad left = default;
        Biquad right = default;
        double smooth = hertzAt(0);
        for (int start = 0; start < track.Frames; start += Interval)
        {
            smooth += 0.02 * (hertzAt((double)start / track.SampleRate) - smooth);
            Biquad design = Biquad.LowPass(smooth, q, track.SampleRate);
            left.Retune(design);
            right.Retune(design);
            int end = Math.Min(start + Interval, track.Frames);
            for (int i = start; i < end; i++)
            {
                track.Left[i] = (float)left.Next(track.Left[i]);
                track.Right[i] = (float)right.Next(track.Right[i]);
            }
        }

        return track;
    }

    /// <summary>A bell that is there only while a curve over time says so: x + amount · band-pass(x).</summary>
    public static void AddBand(float[] samples, int sampleRate, double hertz, double q, Func<double, double> amountAt)
    {
        Biquad band = Biquad.BandPass(hertz, q, sampleRate);
        double amount = 0;
        for (int start = 0; start < samples.Length; start += Interval)
        {
            double target = amountAt((double)start / sampleRate);
            double step = 0.06 * (target - amount) / Interval;
            int end = Math.Min(start + Interval, samples.Length);
            for (int i = start; i < end; i++)
            {
                amount += step;
                samples[i] += (float)(amount * band.Next(samples[i]));
            }
        }
    }
}
