using LiveStems.Dsp;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Analysis.Probe;

/// <summary>
/// How sound dies away: reverberation time in octaves, and how dense the echoes are, from the answers to single samples.
/// </summary>
/// <remarks>
/// Times are T20 of ISO 3382 by M. R. Schroeder's backward integral (1965), summed over four answers (each side to each side),
/// which stray less than one alone. Echo density is that of J. S. Abel and P. Huang, AES 121st Convention, 2006 (from memory): the
/// share of samples beyond the standard deviation of their stretch, over the 0.3173 that Gaussian noise has there. What passes
/// unchanged within a millisecond of the latency is the sound itself and left out.
/// </remarks>
internal static class DecayProbe
{
    private const double ImpulsePeak = 0.1;
    private const double MostSeconds = 5;
    private const double DirectSeconds = 0.001;
    private const double DensitySeconds = 0.02;
    private const double DensityUntilSeconds = 0.2;
    private const double ShareOfNoise = 0.3173;
    private const double DenseAsNoise = 0.9;

    // What rings on shorter, or in fewer octaves, is a filter and no room.
    private const double ShortestSeconds = 0.08;
    private const int FewestOctaves = 3;

    private static readonly double[] Octaves = [250, 500, 1000, 2000, 4000];

    /// <summary>The decay, or null where nothing reverberates.</summary>
    public static DecayReport? Measure(IProbed probed, int sampleRate)
    {
        (float[] left, float[] right) fromLeft = Answer(probed, sampleRate, 1, 0);
        if (fromLeft.left.Length == 0)
        {
            return null;
        }

        (float[] left, float[] right) fromRight = Answer(probed, sampleRate, 0, 1);
        double[][] decays = Decays([fromLeft.left, fromLeft.right, fromRight.left, fromRight.right], sampleRate);
        OctaveDecay[] times = [.. Octaves.Zip(decays, (octave, decay) => new OctaveDecay(octave, T20(decay, sampleRate)))];
        if (times.Count(time => time.Seconds >= ShortestSeconds) < FewestOctaves)
        {
            return null;
        }

        EchoDensityPoint[] density = [.. Densities(fromLeft.left, sampleRate)];
        double? dense = density.Where(point => point.Density >= DenseAsNoise).Select(point => (double?)point.Seconds).FirstOrDefault();
        return new DecayReport(times, density, dense, probed.ModesPerHertz);
    }

    /// <summary>What comes after the sound itself, until it has fallen by 100 dB; empty where nothing comes.</summary>
    private static (float[] Left, float[] Right) Answer(IProbed probed, int sampleRate, float left, float right)
    {
        probed.Reset();
        int first = probed.LatencyFrames + (int)(DirectSeconds * sampleRate);
        List<float> leftAnswer = [], rightAnswer = [];
        float[] leftBlock = new float[ToneMeter.BlockFrames], rightBlock = new float[ToneMeter.BlockFrames];
        double loudest = 0;
        double recent = 0;
        for (int start = 0; start < MostSeconds * sampleRate + first; start += ToneMeter.BlockFrames)
        {
            Array.Clear(leftBlock);
            Array.Clear(rightBlock);
            if (start == 0)
            {
                (leftBlock[0], rightBlock[0]) = ((float)ImpulsePeak * left, (float)ImpulsePeak * right);
            }

            probed.Process(leftBlock, rightBlock);
            double power = 0;
            for (int i = 0; i < leftBlock.Length; i++)
            {
                if (start + i >= first)
                {
                    leftAnswer.Add(leftBlock[i]);
                    rightAnswer.Add(rightBlock[i]);
                    power += (double)leftBlock[i] * leftBlock[i] + (double)rightBlock[i] * rightBlock[i];
                }
            }

            loudest = Math.Max(loudest, power);
            recent = Math.Max(power, 0.9 * recent);
            if (start > first + 0.3 * sampleRate && recent <= 1e-10 * loudest)
            {
                break;
            }
        }

        return loudest < 1e-12 * ImpulsePeak * ImpulsePeak ? ([], []) : ([.. leftAnswer], [.. rightAnswer]);
    }

    private static double[][] Decays(float[][] answers, int sampleRate)
    {
        int frames = answers.Max(answer => answer.Length);
        double[][] decays = [.. Octaves.Select(_ => new double[frames])];
        DoubleFourierTransform transform = new((int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)(2 * frames)));
        double[] signal = new double[transform.Size];
        double[] real = new double[transform.Bins], imaginary = new double[transform.Bins];
        double[] bandReal = new double[transform.Bins], bandImaginary = new double[transform.Bins];
        foreach (float[] answer in answers)
        {
            Array.Clear(signal);
            for (int n = 0; n < answer.Length; n++)
            {
                signal[n] = answer[n];
            }

            transform.Forward(signal, real, imaginary);
            for (int octave = 0; octave < Octaves.Length; octave++)
            {
                for (int bin = 0; bin < real.Length; bin++)
                {
                    double gain = BandGain(bin * (double)sampleRate / transform.Size, Octaves[octave]);
                    (bandReal[bin], bandImaginary[bin]) = (real[bin] * gain, imaginary[bin] * gain);
                }

                transform.Inverse(bandReal, bandImaginary, signal);
                double sum = 0;
                for (int n = answer.Length - 1; n >= 0; n--)
                {
                    sum += signal[n] * signal[n];
                    decays[octave][n] += sum;
                }
            }
        }

        return decays;
    }

    /// <summary>An octave with raised-cosine flanks of a third of an octave.</summary>
    private static double BandGain(double frequency, double centre)
    {
        double octaves = Math.Abs(Math.Log2(Math.Max(frequency, 1e-3) / centre));
        double inside = Math.Clamp((0.5 + 1 / 6.0 - octaves) * 3, 0, 1);
        return 0.5 - 0.5 * Math.Cos(Math.PI * inside);
    }

    /// <summary>A straight line by least squares through the decay from −5 to −25 dB, drawn out to 60 dB; 0 where there is none.</summary>
    private static double T20(double[] decay, int sampleRate)
    {
        (double count, double x, double y, double xx, double xy) = (0, 0, 0, 0, 0);
        for (int n = 0; n < decay.Length && decay[0] > 0; n += 8)
        {
            double level = Decibels.FromPower(decay[n] / decay[0]);
            if (level is <= -5 and >= -25)
            {
                double time = n / (double)sampleRate;
                (count, x, y, xx, xy) = (count + 1, x + time, y + level, xx + time * time, xy + time * level);
            }
        }

        double slope = (count * xy - x * y) / (count * xx - x * x);
        return count > 2 && slope < 0 ? -60 / slope : 0;
    }

    private static IEnumerable<EchoDensityPoint> Densities(float[] answer, int sampleRate)
    {
        int window = (int)(DensitySeconds * sampleRate);
        for (int start = 0; start + window <= answer.Length && start < DensityUntilSeconds * sampleRate; start += window)
        {
            ReadOnlySpan<float> stretch = answer.AsSpan(start, window);
            double power = 0;
            foreach (float sample in stretch)
            {
                power += (double)sample * sample;
            }

            double deviation = Math.Sqrt(power / window);
            int beyond = 0;
            foreach (float sample in stretch)
            {
                beyond += Math.Abs(sample) > deviation ? 1 : 0;
            }

            yield return new EchoDensityPoint((start + window / 2.0) / sampleRate + DirectSeconds, beyond / (ShareOfNoise * window));
        }
    }
}
