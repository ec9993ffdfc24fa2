using MathNet.Numerics;

namespace LiveStems.Conformance.Loudness;

/// <summary>Signals whose highest points lie between the samples (EBU Tech 3341 Table 1, 15 to 23).</summary>
internal static class InterSampleSignals
{
    private const double FadeSeconds = 0.01;

    /// <summary>Half a second of a tone with 10 ms fades.</summary>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="frequency">As a share of the sample rate.</param>
    /// <param name="amplitude">Peak, full scale 1.</param>
    /// <param name="phaseDegrees">Phase of the first sample.</param>
    public static float[] TaperedTone(int sampleRate, double frequency, double amplitude, double phaseDegrees)
    {
        // A multiple of 48, so that the pattern of every whole fraction is complete.
        int length = sampleRate / 96 * 48;
        float[] tone = new float[length];
        for (int n = 0; n < length; n++)
        {
            double angle = 2 * Math.PI * frequency * n + phaseDegrees * Math.PI / 180;
            tone[n] = (float)(amplitude * Fade(n, length, sampleRate) * Math.Sin(angle));
        }

        return tone;
    }

    /// <summary>
    /// At four times the sample rate: a tone of fs/6 at half scale that holds one period of fs/4 at full scale, low-passed
    /// and decimated from an offset of 0 to 3.
    /// </summary>
    public static float[] ShortBurst(int sampleRate, int offset)
    {
        const int SlowPeriod = 24;
        const int FastPeriod = 16;
        int before = sampleRate * 4 / 4 / SlowPeriod * SlowPeriod;
        int length = before * 2 + FastPeriod;
        double[] fine = new double[length];
        for (int n = 0; n < length; n++)
        {
            bool isFast = n >= before && n < before + FastPeriod;
            double angle = isFast ? 2 * Math.PI * (n - before) / FastPeriod : 2 * Math.PI * (n < before ? n : n - before - FastPeriod) / SlowPeriod;
            fine[n] = Fade(n, length, 4 * sampleRate) * (isFast ? 1 : 0.5) * Math.Sin(angle);
        }

        return Decimate(fine, offset);
    }

    private static double Fade(int n, int length, int sampleRate)
    {
        double edge = Math.Min(n, length - 1 - n) / (FadeSeconds * sampleRate);
        return edge >= 1 ? 1 : 0.5 - 0.5 * Math.Cos(Math.PI * edge);
    }

    // 1023 taps, Kaiser window of β 10, edge at 0.96 of half the lower sample rate.
    private static float[] Decimate(double[] fine, int offset)
    {
        const int Reach = 511;
        const double Edge = 0.96 * 0.125;
        const double Beta = 10;
        double[] taps = new double[2 * Reach + 1];
        for (int k = -Reach; k <= Reach; k++)
        {
            double sinc = k == 0 ? 2 * Edge : Math.Sin(2 * Math.PI * Edge * k) / (Math.PI * k);
            double place = (double)k / Reach;
            taps[k + Reach] = sinc * SpecialFunctions.BesselI0(Beta * Math.Sqrt(1 - place * place)) / SpecialFunctions.BesselI0(Beta);
        }

        float[] coarse = new float[(fine.Length - offset) / 4];
        for (int n = 0; n < coarse.Length; n++)
        {
            int centre = 4 * n + offset;
            double sum = 0;
            for (int k = Math.Max(-Reach, -centre); k <= Math.Min(Reach, fine.Length - 1 - centre); k++)
            {
                sum += taps[k + Reach] * fine[centre + k];
            }

            coarse[n] = (float)sum;
        }

        return coarse;
    }
}
