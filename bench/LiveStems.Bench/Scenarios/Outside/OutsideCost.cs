using LiveStems.Albums.Model;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>What one costs, inside the program and in a process of its own.</summary>
internal static class OutsideCost
{
    private const int SampleRate = 48_000;

    public static void Run(int frames)
    {
        ProcessingFormat format = new(SampleRate, frames);
        Processor bare = Prepared(OutsideBuilds.Maker("Tilt", "outside-tilt"), format);
        float[] left = BlockTimes.Noise(frames);
        float[] right = BlockTimes.Noise(frames);
        double alone = BlockTimes.MedianNanoseconds(20_000, () => bare.Process(new StereoBlock(left, right)));
        StereoBuffer buffer = new(frames);
        OutsideGuard guard = new(TimeProvider.System);
        double inside = 0;

        // As the rendering thread of the live driver calls it.
        Thread rendering = new(() =>
        {
            guard.BeginThread();
            inside = BlockTimes.MedianNanoseconds(20_000, Step(OutsideBuilds.Maker("Tilt", "outside-tilt"), format, buffer, left, right, guard));
        });
        rendering.Start();
        rendering.Join();
        Console.WriteLine($"{frames} frames: outside-tilt alone {alone:0} ns a block, in its step inside the program {inside:0} ns: {inside - alone:0} ns of overhead");

        using IsolatedProcessor apart = (IsolatedProcessor)OutsideBuilds.MakersApart("Tilt").Single().Create();
        apart.Prepare(format);
        BlockTimes.Report("one after the other, waited for", frames, BlockTimes.Times(20_000, TimeSpan.Zero, () => apart.Process(new StereoBlock(left, right))));

        BlockTimes.Report("one a period, from handing over to its being back", frames, BlockTimes.Times(2000, TimeSpan.FromSeconds((double)frames / SampleRate), () => apart.Process(new StereoBlock(left, right))));
        using IsolatedProcessor live = (IsolatedProcessor)OutsideBuilds.MakersApart("Tilt").Single().Create();
        live.IsLive = true;
        live.Prepare(format);
        Thread.Sleep(500);
        double[] exchange = BlockTimes.Times(2000, TimeSpan.FromSeconds((double)frames / SampleRate), () => live.Process(new StereoBlock(left, right)));
        BlockTimes.Report("what the audio thread spends on it live, one a period", frames, exchange);
        Console.WriteLine($"of those {live.LostFrames} frames were late, in {live.Lapses} lapses");
    }

    private static Action Step(ProcessorMaker maker, ProcessingFormat format, StereoBuffer buffer, float[] left, float[] right, OutsideGuard guard)
    {
        Processor processor = Prepared(maker, format);
        ProcessorStep step = new(new PreparedProcessor(processor, processor.LatencyFrames), buffer, null, StereoScope.Stereo, 1, format, keepsDry: true) { Guard = guard };
        PlanBlock block = new(left.Length, 0);
        return () =>
        {
            left.CopyTo(buffer.Left, 0);
            right.CopyTo(buffer.Right, 0);
            step.Run(block);
        };
    }

    private static Processor Prepared(ProcessorMaker maker, ProcessingFormat format)
    {
        Processor processor = maker.Create();
        processor.Prepare(format);
        return processor;
    }
}
