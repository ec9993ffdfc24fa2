using System.Collections.Concurrent;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

/// <summary>A walk through a plan that never returns from a processor: another goes on from that very step.</summary>
public sealed class WatchedRendererTests : IDisposable
{
    private const int Block = 256;
    private const int SampleRate = 48_000;
    private static readonly TimeSpan LongEnough = TimeSpan.FromSeconds(30);

    // What hangs ends with its test.
    private readonly ManualResetEventSlim release = new();

    public void Dispose() => release.Set();

    [Fact]
    public void WalkGoesOnFromTheStepThatHangsAndTheLostOneNeverComesBackIntoThePlan()
    {
        OutsideGuard guard = new(TimeProvider.System);
        HangingStep hanging = new(guard, release, hangsAtBlock: 3);
        List<Processor> told = [];
        Counter before = new();
        Counter after = new();
        using Source source = new(before, hanging, after);
        using WatchedRenderer watched = new(source, Block, SampleRate, guard, (culprit, _) => told.Add(culprit));
        watched.BeginWatch();
        Assert.True(SpinWait.SpinUntil(() => Take(watched) && after.Blocks > 5, LongEnough));
        watched.EndWatch();
        Assert.Equal([hanging.Processor], told);
        Assert.Equal(1, hanging.FinishedWithout);

        // Every step has done every block, once.
        Assert.Equal((source.Blocks, source.Blocks), (before.Blocks, after.Blocks));
        release.Set();
        Assert.True(hanging.Ended.Wait(LongEnough, TestContext.Current.CancellationToken));
        Assert.False(hanging.HasComeBack);
    }

    [Fact]
    public void WalkThatIsInsideAProcessorWhenTheWatchEndsIsLostThen()
    {
        // A clock that stands still: nobody is taken for lost while the watch goes on.
        OutsideGuard guard = new(new HandClock());
        HangingStep hanging = new(guard, release, hangsAtBlock: 1);
        Counter after = new();
        using Source source = new(hanging, after);
        using WatchedRenderer watched = new(source, Block, SampleRate, guard, (_, _) => { });
        watched.BeginWatch();
        Assert.True(hanging.Inside.Wait(LongEnough, TestContext.Current.CancellationToken));
        watched.EndWatch();
        Assert.Equal((1, 1, 1), (source.Blocks, hanging.FinishedWithout, after.Blocks));

        // The device's thread renders again, behind the block that was under way.
        Assert.True(Take(watched));
        Assert.True(Take(watched));
        Assert.Equal((2, 2), (source.Blocks, after.Blocks));
    }

    // The clock is the device's: it goes on by a buffer for each that the device takes, and not before the watch has seen it,
    // so that frames are counted as on a machine that does nothing else. What the watch takes to look again is real time.
    [Fact]
    public void SoundIsBackWithinATenthOfASecondOfTheDevicesTimeAfterAHang()
    {
        HandClock clock = new();
        OutsideGuard guard = new(clock);
        HangingStep hanging = new(guard, release, hangsAtBlock: 20);
        ConcurrentQueue<Processor> told = new();
        using Source source = new(hanging);
        using WatchedRenderer watched = new(source, Block, SampleRate, guard, (culprit, _) => told.Enqueue(culprit));
        watched.BeginWatch();

        // From now on the device's thread renders nothing itself.
        Assert.True(SpinWait.SpinUntil(() => source.Blocks > 0, LongEnough));

        // It hangs before the device takes the buffer after which that is seen.
        int buffersSinceHang = 1;
        bool isBack = false;
        for (int buffer = 0; buffer < 100 && !isBack; buffer++)
        {
            clock.Pass((double)Block / SampleRate);
            int read = clock.Readings;

            // While a walk is in a processor only the watch reads the clock, twice a look: three more, and one look is whole.
            Assert.True(SpinWait.SpinUntil(
                () => (clock.Readings > read && watched.CanGive(Block)) || (hanging.Inside.IsSet && told.IsEmpty && clock.Readings >= read + 3),
                LongEnough));
            buffersSinceHang += hanging.Inside.IsSet ? 1 : 0;
            long missed = watched.MissedFrames;
            Take(watched);
            isBack = missed > 0 && watched.MissedFrames == missed;
        }

        Assert.True(isBack);
        Assert.Equal([hanging.Processor], told);
        double longest = 0.1 - WatchedRenderer.Watch.TotalSeconds;
        Assert.InRange(watched.MissedFrames, Block, longest * SampleRate);
        Assert.InRange(buffersSinceHang * Block, Block, longest * SampleRate);
    }

    [Fact]
    public void GoingOverToTheWalkAllocatesNothing()
    {
        using PlanWalker walker = new(new OutsideGuard(TimeProvider.System));
        Plan plan = PlanOf(new Counter(), new Counter());
        for (int i = 0; i < 20; i++)
        {
            walker.Run(plan, Block);
        }

        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 200; i++)
        {
            walker.Run(plan, Block);
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void WhatIsWrongInTheWalkIsTheRenderingThreadsToDealWith()
    {
        using PlanWalker walker = new(new OutsideGuard(TimeProvider.System));
        Assert.Throws<NotSupportedException>(() => walker.Run(PlanOf(new Broken()), Block));
        Counter counter = new();
        walker.Run(PlanOf(counter), Block);
        Assert.Equal(1, counter.Blocks);
    }

    private static bool Take(WatchedRenderer watched)
    {
        float[] left = new float[Block];
        watched.Render(left, new float[Block]);
        return left[0] == 1;
    }

    private static Plan PlanOf(params PlanStep[] steps) => new([], [], steps, new StereoBuffer(Block), null, 0, 1);

    private sealed class Source(params PlanStep[] steps) : IAudioRenderer, IDisposable
    {
        private readonly Plan plan = PlanOf(steps);

        public int Blocks { get; private set; }

        public void Render(Span<float> left, Span<float> right)
        {
            Blocks++;
            if (PlanRunner.OfThisThread is { } runner)
            {
                runner.Run(plan, left.Length);
            }
            else
            {
                plan.Run(left.Length);
            }

            left.Fill(1);
        }

        public void Dispose()
        {
        }
    }

    private sealed class Counter : PlanStep
    {
        public int Blocks { get; private set; }

        public override void Run(in PlanBlock block) => Blocks++;

        public override void Reset()
        {
        }
    }

    private sealed class Broken : PlanStep
    {
        public override void Run(in PlanBlock block) => throw new NotSupportedException();

        public override void Reset()
        {
        }
    }

    private sealed class HangingStep(OutsideGuard guard, ManualResetEventSlim release, int hangsAtBlock) : PlanStep
    {
        private int blocks;

        public Processor Processor { get; } = BuiltInProcessors.Catalogue.Create("gain")!;

        public ManualResetEventSlim Inside { get; } = new();

        public ManualResetEventSlim Ended { get; } = new();

        public int FinishedWithout { get; private set; }

        public bool HasComeBack { get; private set; }

        public override void Run(in PlanBlock block)
        {
            if (++blocks != hangsAtBlock)
            {
                return;
            }

            try
            {
                guard.Enter(Processor);
                Inside.Set();
                release.Wait();
                OutsideGuard.Leave();
                HasComeBack = true;
            }
            finally
            {
                Ended.Set();
            }
        }

        public override void FinishWithoutProcessor(in PlanBlock block) => FinishedWithout++;

        public override void Reset()
        {
        }
    }
}
