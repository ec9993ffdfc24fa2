using LiveStems.Dsp.Simd;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Comparing;

/// <summary>
/// By how many frames one master of a song lies later in its file than another, as when the cut at its start was moved:
/// first from the course of their power in steps of 10 ms, then to the frame from the sound around the loudest moment; the
/// largest normalised cross-correlation decides.
/// </summary>
internal static class MasterShift
{
    private const double StepSeconds = 0.01;
    private const double LongestShiftSeconds = 60;
    private const double ExcerptSeconds = 2;

    // Below it the sounds have too little in common to be laid over each other.
    private const double LeastAgreement = 0.7;
    private const int FramesAtOnce = 16_384;

    /// <summary>Frames by which what stands in <paramref name="before"/> comes later in <paramref name="after"/>; 0 where that is not clear.</summary>
    /// <param name="before">The earlier master; rewound to its start.</param>
    /// <param name="after">The later one, at the same rate; rewound too.</param>
    /// <param name="cancellation">Stops between two stretches.</param>
    public static long Between(IAudioReader before, IAudioReader after, CancellationToken cancellation)
    {
        int step = (int)(StepSeconds * before.Info.SampleRate);
        float[] was = Course(before, step, cancellation);
        float[] now = Course(after, step, cancellation);
        int coarse = Coarse(was, now);
        long loudest = Array.IndexOf(was, was.DefaultIfEmpty(0).Max()) * (long)step;
        (long shift, double agreement) = Fine(before, after, loudest, coarse * (long)step, 2 * step);
        before.Seek(0);
        after.Seek(0);
        return agreement >= LeastAgreement ? shift : 0;
    }

    private static float[] Course(IAudioReader reader, int step, CancellationToken cancellation)
    {
        float[] course = new float[reader.Info.Frames / step];
        float[] left = new float[step];
        float[] right = new float[step];
        for (int i = 0; i < course.Length; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            Fill(reader, left, right);

            // The root keeps single loud blows from deciding alone.
            course[i] = (float)Math.Sqrt(Products.Sum(left, left) + Products.Sum(right, right));
        }

        return course;
    }

    private static int Coarse(float[] was, float[] now)
    {
        int most = (int)(LongestShiftSeconds / StepSeconds);
        (int Shift, double Agreement) best = (0, double.NegativeInfinity);
        for (int shift = -Math.Min(most, was.Length - 1); shift <= Math.Min(most, now.Length - 1); shift++)
        {
            int from = Math.Max(0, -shift);
            int count = Math.Min(was.Length - from, now.Length - from - shift);
            if (count * 2 < Math.Min(was.Length, now.Length))
            {
                continue;
            }

            double agreement = Agreement(was.AsSpan(from, count), now.AsSpan(from + shift, count));
            best = agreement > best.Agreement ? (shift, agreement) : best;
        }

        return best.Shift;
    }

    // Means taken out: what is left is the course of the music, not that it is there.
    private static double Agreement(ReadOnlySpan<float> was, ReadOnlySpan<float> now)
    {
        double wasSum = Products.Sum(was), nowSum = Products.Sum(now);
        double shared = Products.Sum(was, now) - wasSum * nowSum / was.Length;
        double wasPower = Products.Sum(was, was) - wasSum * wasSum / was.Length;
        double nowPower = Products.Sum(now, now) - nowSum * nowSum / was.Length;
        return wasPower > 0 && nowPower > 0 ? shared / Math.Sqrt(wasPower * nowPower) : double.NegativeInfinity;
    }

    private static (long Shift, double Agreement) Fine(IAudioReader before, IAudioReader after, long loudest, long coarse, int around)
    {
        int frames = (int)Math.Min(ExcerptSeconds * before.Info.SampleRate, Math.Min(before.Info.Frames, after.Info.Frames) / 2);
        long start = Math.Clamp(loudest - frames / 2, Math.Max(0, around - coarse), Math.Max(0, Math.Min(before.Info.Frames, after.Info.Frames - coarse - around) - frames));
        float[] was = Excerpt(before, start, frames);
        float[] now = Excerpt(after, Math.Max(0, start + coarse - around), frames + 2 * around);
        double wasPower = Products.Sum(was, was);
        (long Shift, double Agreement) best = (0, 0);
        for (int lag = 0; lag <= 2 * around; lag++)
        {
            ReadOnlySpan<float> there = now.AsSpan(lag, frames);
            double power = wasPower * Products.Sum(there, there);
            double agreement = power > 0 ? Math.Abs(Products.Sum(was, there)) / Math.Sqrt(power) : 0;
            best = agreement > best.Agreement ? (Math.Max(0, start + coarse - around) + lag - start, agreement) : best;
        }

        return best;
    }

    private static float[] Excerpt(IAudioReader reader, long start, int frames)
    {
        float[] left = new float[frames];
        float[] right = new float[frames];
        reader.Seek(Math.Min(start, reader.Info.Frames));
        Fill(reader, left, right);
        Planar.AddScaled(right, 1, left);
        return left;
    }

    private static void Fill(IAudioReader reader, float[] left, float[] right)
    {
        for (int done = 0; done < left.Length;)
        {
            int read = reader.Read(left.AsSpan(done, Math.Min(FramesAtOnce, left.Length - done)), right.AsSpan(done, Math.Min(FramesAtOnce, left.Length - done)));
            if (read == 0)
            {
                left.AsSpan(done).Clear();
                right.AsSpan(done).Clear();
                return;
            }

            done += read;
        }
    }
}
