using LiveStems.Dsp;

namespace LiveStems.App.Demo.Mixing;

/// <summary>Feed-forward compressor with a power detector, both channels by one gain, computed every 32 frames.</summary>
internal static class BusCompressor
{
    private const int Interval = 32;

    public static StereoTrack Compress(
        this StereoTrack track, double thresholdDb, double ratio, double attackMs, double releaseMs, double makeUpDb = 0)
    {
        Process(track.Left, track.Right, track.SampleRate, thresholdDb, ratio, attackMs, releaseMs, makeUpDb);
        return track;
    }

    /// <summary>Compresses two channels in place; a mono track is handed over twice as the same memory.</summary>
    public static void Process(
        Span<float> left,
        Span<float> right,
        int sampleRate,
        double thresholdDb,
        double ratio,
        double attackMs,
        double releaseMs,
        double makeUpDb = 0)
    {
        bool mono = left == right;
        double attack = Share(attackMs, sampleRate);
        double release = Share(releaseMs, sampleRate);
        double power = 0;
        double makeUp = Decibels.ToAmplitude(makeUpDb);
        double gain = makeUp;
        for (int start = 0; start < left.Length; start += Interval)
        {
            int frames = Math.Min(Interval, left.Length - start);
            Span<float> l = left.Slice(start, frames);
            Span<float> r = right.Slice(start, frames);
            double now = Math.Max(Power(l), Power(r));
            power += (now - power) * (now > power ? attack : release);
            double over = Decibels.FromPower(power + 1e-12) - thresholdDb;
            double target = over > 0 ? makeUp * Decibels.ToAmplitude(-over * (1 - 1 / ratio)) : makeUp;
            Ramp(l, gain, target);
            if (!mono)
            {
                Ramp(r, gain, target);
            }

            gain = target;
        }
    }

    private static double Share(double milliseconds, int sampleRate) =>
        1 - Math.Exp(-Interval * 1000.0 / (milliseconds * sampleRate));

    private static double Power(ReadOnlySpan<float> samples)
    {
        float sum = 0;
        foreach (float sample in samples)
        {
            sum += sample * sample;
        }

        return sum / samples.Length;
    }

    private static void Ramp(Span<float> samples, double from, double to)
    {
        float gain = (float)from;
        float step = (float)((to - from) / Interval);
        for (int i = 0; i < samples.Length; i++)
        {
            samples[i] *= gain;
            gain += step;
        }
    }
}
