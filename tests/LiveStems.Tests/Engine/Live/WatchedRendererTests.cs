using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

/// <summary>The end of the watch over a rendering thread.</summary>
public class WatchedRendererTests
{
    private const int Block = 64;
    private static readonly TimeSpan LongEnough = TimeSpan.FromSeconds(30);

    [Fact]
    public void ThreadThatIsInsideAProcessorWhenTheWatchEndsNeverComesBackIntoTheSong()
    {
        // A clock that stands still: nobody is taken for lost while the watch goes on.
        OutsideGuard guard = new(new HandClock());
        using Source source = new(guard);
        using WatchedRenderer watched = new(source, Block, 48_000, guard, _ => { });
        watched.BeginWatch();
        Assert.True(source.Inside.Wait(LongEnough, TestContext.Current.CancellationToken));
        watched.EndWatch();

        // The device's thread renders again.
        float[] left = new float[Block];
        watched.Render(left, new float[Block]);
        Assert.All(left, sample => Assert.Equal(1, sample));
        source.Release.Set();
        Assert.True(source.Ended.Wait(LongEnough, TestContext.Current.CancellationToken));
        Assert.False(source.HasComeBack);
    }

    // The first call stays inside a processor until it is released; every other one sounds.
    private sealed class Source(OutsideGuard guard) : IAudioRenderer, IDisposable
    {
        private readonly Processor processor = BuiltInProcessors.Catalogue.Create("gain")!;
        private int calls;

        public ManualResetEventSlim Inside { get; } = new();

        public ManualResetEventSlim Release { get; } = new();

        public ManualResetEventSlim Ended { get; } = new();

        public bool HasComeBack { get; private set; }

        public void Render(Span<float> left, Span<float> right)
        {
            if (Interlocked.Increment(ref calls) > 1)
            {
                left.Fill(1);
                return;
            }

            try
            {
                guard.Enter(processor);
                Inside.Set();
                Release.Wait();
                OutsideGuard.Leave();
                HasComeBack = true;
            }
            finally
            {
                Ended.Set();
            }
        }

        public void Dispose()
        {
            Inside.Dispose();
            Release.Dispose();
            Ended.Dispose();
        }
    }
}
