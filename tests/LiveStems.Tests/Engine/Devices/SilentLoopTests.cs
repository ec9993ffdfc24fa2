using LiveStems.Engine.Devices;
using LiveStems.Engine.Devices.Silent;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class SilentLoopTests
{
    // 480 frames at 48 kHz: 10 ms, 10,000 ticks of the clock of these tests.
    private const int Period = 10_000;

    private readonly SettableClock clock = new();
    private readonly AudioStatistics statistics = new();

    [Fact]
    public void APunctualDeviceAsksOnceAPeriodForExactlyItsBuffer()
    {
        CountingRenderer renderer = new();
        SilentLoop loop = Loop(renderer, 48_000, 480);
        for (int i = 0; i < 101; i++)
        {
            loop.RunPeriod();
        }

        // The first is due at once: after 100 more, one second has passed.
        Assert.Equal(1_000_000, clock.Now);
        Assert.Equal(48_480, renderer.Frames);
        Assert.Equal(480, renderer.LongestCall);
        Assert.Equal(0, statistics.Underruns);
    }

    [Theory]
    [InlineData(44_100, 256)]
    [InlineData(48_000, 64)]
    [InlineData(96_000, 4096)]
    [InlineData(11_025, 77)]
    public void TimeDoesNotDriftWhereThePeriodIsNoWholeNumberOfTicks(int rate, int frames)
    {
        SilentLoop loop = Loop(new CountingRenderer(), rate, frames);
        const int Periods = 100_000;
        for (int i = 0; i <= Periods; i++)
        {
            loop.RunPeriod();
        }

        Assert.Equal((long)Math.Ceiling((decimal)Periods * frames * clock.Frequency / rate), clock.Now);
        Assert.Equal(0, statistics.Underruns);
    }

    [Theory]
    [InlineData(0, 29_999, 0, 10_000)]
    [InlineData(0, 30_000, 1, 20_000)]
    [InlineData(0, 55_000, 3, 40_000)]
    [InlineData(32_345, 0, 1, 20_000)]
    [InlineData(26_000, 5_000, 1, 20_000)]
    public void EveryPeriodThatPassesOnceTheThreeWaitingBuffersArePlayedIsAnUnderrunAndTheGridIsKept(int late, int work, int underruns, int nextDue)
    {
        SilentLoop loop = Loop(new WorkingRenderer(clock, work), 48_000, 480);
        clock.Late = late;
        loop.RunPeriod();
        Assert.Equal(underruns, statistics.Underruns);

        clock.Late = 0;
        loop.RunPeriod();
        Assert.Equal(nextDue, clock.LastDue);
    }

    [Fact]
    public void MoreBuffersWaitWhereMoreSecondsAreWanted()
    {
        SilentLoop loop = new(clock, new WorkingRenderer(clock, 49_999), new DeviceSettings(48_000, 480, BufferedSeconds: 0.041), statistics);
        loop.RunPeriod();
        Assert.Equal(0, statistics.Underruns);

        clock.Now++;
        loop.RunPeriod();
        Assert.True(statistics.Underruns > 0);
    }

    [Fact]
    public void AnUnderrunKnowsSinceWhenTheSoundWasBehind()
    {
        clock.Now = 7;
        SilentLoop loop = Loop(new WorkingRenderer(clock, 9_000), 48_000, 480);
        loop.RunPeriod();
        loop.RunPeriod();
        Assert.Equal(19_007, clock.Now);

        // Each takes a fifth longer than its period: what three waiting buffers allow is used up at the tenth.
        loop = Loop(new WorkingRenderer(clock, 12_000), 48_000, 480);
        for (int call = 0; statistics.Underruns == 0; call++)
        {
            Assert.InRange(call, 0, 9);
            loop.RunPeriod();
        }

        Assert.Equal(new Underrun(19_007 + 120_000, 19_007, 0, 12_000), Assert.Single(statistics.LatestUnderruns));
    }

    [Fact]
    public void FramesAndUnderrunsTogetherKeepTheTimeOfTheClock()
    {
        CountingRenderer renderer = new();
        SilentLoop loop = Loop(renderer, 48_000, 480);
        Random random = new(3);
        for (int i = 0; i < 1000; i++)
        {
            clock.Late = random.Next(4) == 0 ? random.Next(5 * Period) : 0;
            loop.RunPeriod();
        }

        clock.Late = 0;
        for (int i = 0; i < 4; i++)
        {
            loop.RunPeriod();
        }

        Assert.True(statistics.Underruns > 0);
        Assert.Equal(clock.Now / Period, renderer.Calls - 1 + statistics.Underruns);
    }

    private SilentLoop Loop(IAudioRenderer renderer, int rate, int frames) =>
        new(clock, renderer, new DeviceSettings(rate, frames), statistics);

    /// <summary>Time that passes only by waiting and working, in microseconds.</summary>
    private sealed class SettableClock : IPeriodClock
    {
        public long Frequency => 1_000_000;

        public long Now { get; set; }

        public long LastDue { get; private set; }

        public int Late { get; set; }

        public void WaitUntil(long due)
        {
            LastDue = due;
            Now = Math.Max(Now, due + Late);
        }
    }

    private sealed class WorkingRenderer(SettableClock clock, int ticks) : IAudioRenderer
    {
        public void Render(Span<float> left, Span<float> right) => clock.Now += ticks;
    }
}
