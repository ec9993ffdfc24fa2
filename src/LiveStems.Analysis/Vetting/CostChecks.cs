using System.Diagnostics;
using LiveStems.Analysis.Probe;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>What a processor takes of the audio thread's time and of the memory's peace.</summary>
internal static class CostChecks
{
    public const string Name = "cost";

    private const int Block = 256;
    private const int Blocks = 200;

    // So much a block is a boxed number or two; more brings collections while the music plays.
    private const double FewBytes = 1024;

    // Half of a block's time is what the guard lets one processor have while it plays.
    private const double MostOfABlock = 0.5;
    private const double MuchOfABlock = 0.1;
    private const double SlowSilence = 5;

    // By then all that is worth compiling well has been.
    private static readonly TimeSpan WarmingUp = TimeSpan.FromSeconds(2);

    public static VettingFinding? Allocation(Func<Processor> make, VettingSituation situation)
    {
        (float[] left, float[] right) = VettingRun.Noise(Block, 6);
        float[] key = VettingRun.Key(Block);
        VettingRun run = new(make, Block, situation);
        // All is compiled, and what is allocated but once is there, after the first run. Of the others the least counts: a
        // collection meanwhile books what is left of the thread's allocation window on it.
        Count(run, left, right, key);
        double bytes = Enumerable.Range(0, 3).Min(_ => (double)Count(run, left, right, key) / Blocks);
        return bytes < 1
            ? null
            : new VettingFinding("allocation", bytes > FewBytes, $"allocates {bytes:0} bytes a block while it processes{situation.Words}");
    }

    private static long Count(VettingRun run, float[] left, float[] right, float[] key)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int block = 0; block < Blocks; block++)
        {
            Move(run.Processor, block);
            Array.Fill(left, 0.1f);
            Array.Fill(right, -0.1f);
            run.Process(left, right, key);
        }

        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    /// <summary>
    /// Whether not one block takes less time than it lasts: then nothing else need be tried, which would only take long. The
    /// shortest counts, so that what else the machine does makes nobody too slow.
    /// </summary>
    public static VettingFinding? Slowness(Func<Processor> make)
    {
        VettingRun run = new(make, Block, VettingSituation.New);
        (float[] left, float[] right) = VettingRun.Noise(Block, 6);

        // Nobody knows yet whether it stays within its block.
        float[][] lanes = [new float[3 * Block], new float[3 * Block]];
        long begin = Stopwatch.GetTimestamp();
        TimeSpan shortest = TimeSpan.MaxValue;
        do
        {
            left.CopyTo(lanes[0], Block);
            right.CopyTo(lanes[1], Block);
            long start = Stopwatch.GetTimestamp();
            try
            {
                run.Process(lanes[0].AsSpan(Block, Block), lanes[1].AsSpan(Block, Block), default);
            }
            catch (Exception)
            {
                // That is found, and named, where its sound is tried.
                return null;
            }

            TimeSpan taken = Stopwatch.GetElapsedTime(start);
            shortest = taken < shortest ? taken : shortest;
            if (shortest.TotalSeconds * VettingRun.SampleRate < Block)
            {
                return null;
            }
        }
        while (Stopwatch.GetElapsedTime(begin) < WarmingUp);

        return Judge(shortest.TotalNanoseconds / Block);
    }

    public static VettingFinding? Cost(Func<Processor> make, out double nanosecondsPerFrame)
    {
        ProbedProcessor probed = new(make());
        probed.Prepare(new ProcessingFormat(VettingRun.SampleRate, Block));
        nanosecondsPerFrame = CostProbe.Measure(probed, VettingRun.SampleRate, Block);
        return Judge(nanosecondsPerFrame);
    }

    /// <summary>What is to be said of a cost.</summary>
    public static VettingFinding? Judge(double nanosecondsPerFrame)
    {
        double share = nanosecondsPerFrame * VettingRun.SampleRate / 1e9;
        return share < MuchOfABlock
            ? null
            : new VettingFinding(Name, share > MostOfABlock, $"takes {100 * share:0} % of one core at 48 kHz");
    }

    // Numbers below the normal range make some processors many times slower; decay brings state there.
    public static VettingFinding? Silence(Func<Processor> make)
    {
        (float[] left, float[] right) = VettingRun.Noise(VettingRun.SampleRate, 7);
        VettingRun run = new(make, Block, VettingSituation.New);
        double loud = Median(run, left, right);
        float[] silence = new float[10 * VettingRun.SampleRate];
        run.Run(silence, silence, Block);
        double quiet = Median(run, silence.AsSpan(0, VettingRun.SampleRate).ToArray(), silence.AsSpan(0, VettingRun.SampleRate).ToArray());
        return quiet < SlowSilence * loud
            ? null
            : new VettingFinding("silence", false, $"takes {quiet / loud:0.0} times as long in silence after sound: its state keeps numbers too small to be of use");
    }

    private static double Median(VettingRun run, float[] left, float[] right)
    {
        List<long> times = [];
        for (int done = 0; done + Block <= left.Length; done += Block)
        {
            long start = Stopwatch.GetTimestamp();
            run.Process(left.AsSpan(done, Block), right.AsSpan(done, Block), default);
            times.Add(Stopwatch.GetTimestamp() - start);
        }

        times.Sort();
        return Math.Max(1, times[times.Count / 2]);
    }

    private static void Move(Processor processor, int block)
    {
        if (block % 8 != 0 || processor.Description.Parameters.Count == 0)
        {
            return;
        }

        int index = block / 8 % processor.Description.Parameters.Count;
        ParameterSpec spec = processor.Description.Parameters[index];
        processor.SetParameter(index, block / 8 % 2 == 0 ? spec.Default : 0.5 * (spec.Minimum + spec.Maximum));
    }
}
