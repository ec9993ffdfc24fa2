using System.Diagnostics;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>Times of something that is done block after block.</summary>
internal static class BlockTimes
{
    public static float[] Noise(int frames)
    {
        Random random = new(frames);
        return [.. Enumerable.Range(0, frames).Select(_ => 0.2f * (random.NextSingle() - 0.5f))];
    }

    public static double MedianNanoseconds(int rounds, Action action)
    {
        double[] times = Times(rounds, TimeSpan.Zero, action);
        return times[times.Length / 2] * 1e9;
    }

    public static double[] Times(int rounds, TimeSpan period, Action action)
    {
        double[] times = new double[rounds];
        long next = Stopwatch.GetTimestamp();
        for (int i = -rounds / 10; i < rounds; i++)
        {
            // Who was held up starts afresh: two blocks at once are no period.
            next = Math.Max(next + (long)(period.TotalSeconds * Stopwatch.Frequency), Stopwatch.GetTimestamp());
            while (period > TimeSpan.Zero && Stopwatch.GetTimestamp() < next)
            {
                Thread.SpinWait(10);
            }

            long start = Stopwatch.GetTimestamp();
            action();
            times[Math.Max(0, i)] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        }

        Array.Sort(times);
        return times;
    }

    public static void Report(string what, int frames, double[] times) => Console.WriteLine(
        $"own process, {frames} frames, {what}: median {times[times.Length / 2] * 1e6:0.0} µs, 99 % within {times[times.Length * 99 / 100] * 1e6:0.0}, 99.9 % within {times[times.Length * 999 / 1000] * 1e6:0.0}, worst {times[^1] * 1e6:0.0}");
}
