using System.Diagnostics;
using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class DurationHistogramTests
{
    private static readonly double TickSeconds = 1.0 / Stopwatch.Frequency;

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.99)]
    [InlineData(0.999)]
    [InlineData(1)]
    public void QuantilesAreThoseOfTheSortedDurationsToOneThirtySecond(double quantile)
    {
        Random random = new(7);
        DurationHistogram histogram = new();
        long[] ticks = new long[10_000];
        for (int i = 0; i < ticks.Length; i++)
        {
            // Spread over eight decades, from 100 ns to 10 s.
            ticks[i] = (long)(Math.Pow(10, -7 + (8 * random.NextDouble())) * Stopwatch.Frequency);
            histogram.Add(ticks[i]);
        }

        Array.Sort(ticks);
        double exact = ticks[(int)Math.Ceiling(quantile * ticks.Length) - 1] * TickSeconds;
        Assert.InRange(histogram.SecondsAt(quantile), exact * (1 - 1e-12), exact * (1 + (1.0 / 32)));
    }

    [Fact]
    public void TheWorstIsExact()
    {
        DurationHistogram histogram = new();
        histogram.Add(Stopwatch.Frequency / 1000);
        histogram.Add(Stopwatch.Frequency * 100);
        histogram.Add(5);
        Assert.Equal(100, histogram.WorstSeconds);
        Assert.Equal(3, histogram.Count);
    }

    [Fact]
    public void AnEarlyCallCountsAsPunctual()
    {
        DurationHistogram histogram = new();
        histogram.Add(-1000);
        Assert.Equal(1, histogram.Count);
        Assert.Equal(0, histogram.SecondsAt(1));
    }

    [Fact]
    public void NothingAddedIsNoTime() => Assert.Equal(0, new DurationHistogram().SecondsAt(0.999));
}
