using System.Diagnostics;
using LiveStems.Analysis.Probe;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>What a processor takes of the audio thread's time and of the memory's peace.</summary>
internal static class CostChecks
{
    private const int Block = 256;
    private const int Blocks = 200;

    // So much a block is a boxed number or two; more brings collections while the music plays.
    private const double FewBytes = 1024;

    // Half of a block's time is what the guard lets one processor have while it plays.
    private const double MostOfABlock = 0.5;
    private const double MuchOfABlock = 0.1;
    private const double SlowSilence = 5;

    public static VettingFinding? Allocation(Func<Processor> make)
    {
        (float[] left, float[] right) = VettingRun.Noise(Block, 6);
        VettingRun run = new(make, Block);
        // All is compiled, and what is allocated but once is there, after the first run. Of the others the least counts: a
        // collection meanwhile books what is left of the thread's allocation window on it.
        Count(run.Processor, left, right);
        double bytes = Enumerable.Range(0, 3).Min(_ => (double)Count(run.Processor, left, right) / Blocks);
        return bytes < 1
            ? null
            : new VettingFinding("allocation", bytes > FewBytes, $"allocates {bytes:0} bytes a block while it processes");
    }

    private static long Count(Processor processor, float[] left, float[] right)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int block = 0; block < Blocks; block++)
        {
            Move(processor, block);
            Array.Fill(left, 0.1f);
            Array.Fill(right, -0.1f);
            processor.Process(new StereoBlock(left, right));
        }

        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    public static VettingFinding? Cost(Func<Processor> make, out double nanosecondsPerFrame)
    {
        ProbedProcessor probed = new(make());
        probed.Prepare(new ProcessingFormat(VettingRun.SampleRate, Block));
        nanosecondsPerFrame = CostProbe.Measure(probed, VettingRun.SampleRate, Block);
        double share = nanosecondsPerFrame * VettingRun.SampleRate / 1e9;
        return share < MuchOfABlock
            ? null
            : new VettingFinding("cost", share > MostOfABlock, $"takes {100 * share:0} % of one core at 48 kHz");
    }

    // Numbers below the normal range make some processors many times slower; decay brings state there.
    public static VettingFinding? Silence(Func<Processor> make)
    {
        (float[] left, float[] right) = VettingRun.Noise(VettingRun.SampleRate, 7);
        VettingRun run = new(make, Block);
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
            run.Processor.Process(new StereoBlock(left.AsSpan(done, Block), right.AsSpan(done, Block)));
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
