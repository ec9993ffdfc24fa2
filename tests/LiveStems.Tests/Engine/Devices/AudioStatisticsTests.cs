using System.Diagnostics;
using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class AudioStatisticsTests
{
    private const int Rate = 48_000;
    private const int Frames = 480; // 10 ms

    [Fact]
    public void QuantilesOfTheLoadAreExactToAHalfPerCent()
    {
        AudioStatistics statistics = new();
        for (int i = 1; i <= 1000; i++)
        {
            // 0.0999 % to 99.9 % of 10 ms, off the edges of the steps.
            statistics.AddCall(TicksOf(0.01 * (i - 0.5) / 1000), Frames, Rate);
        }

        Assert.Equal(0.5, statistics.ShareAt(0.5), 1e-9);
        Assert.Equal(0.99, statistics.ShareAt(0.99), 1e-9);
        Assert.Equal(1, statistics.ShareAt(0.999), 1e-9);
        Assert.Equal(0.9995, statistics.WorstShare, 1e-6);
        Assert.Equal(1000, statistics.Calls);
    }

    [Fact]
    public void WhatPassesTheScaleIsToldAsTheWorst()
    {
        AudioStatistics statistics = new();
        statistics.AddCall(TicksOf(0.05), Frames, Rate);
        Assert.Equal(5, statistics.ShareAt(1), 1e-6);
    }

    [Fact]
    public void TheLoadSettlesOnASteadyShare()
    {
        AudioStatistics statistics = new();

        // 3 s are ten time constants: what is left is below (1 + 0.01/0.3)^-300 = 5.4e-5.
        for (int i = 0; i < 300; i++)
        {
            statistics.AddCall(TicksOf(0.0025), Frames, Rate);
        }

        Assert.Equal(0.25, statistics.Load, 0.25 * 6e-5);
    }

    [Fact]
    public void NothingHasHappenedBeforeTheFirstCall()
    {
        AudioStatistics statistics = new();
        Assert.Equal(0, statistics.ShareAt(0.5));
        Assert.Equal(0, statistics.Load);
        Assert.Equal(AudioThreadPriority.Unknown, statistics.Priority);
    }

    private static long TicksOf(double seconds) => (long)Math.Round(seconds * Stopwatch.Frequency);
}
