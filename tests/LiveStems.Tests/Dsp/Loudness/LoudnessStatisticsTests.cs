using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

/// <summary>Gates and percentiles over bins, against keeping and sorting every value.</summary>
public class LoudnessStatisticsTests
{
    [Fact]
    public void GatedLoudnessIsThatOfAGateLessThanAThousandthAway()
    {
        Random random = new(1);
        for (int programme = 0; programme < 50; programme++)
        {
            double[] blocks = RandomBlocks(random, 600);
            GatedLoudness gated = new();
            Array.ForEach(blocks, gated.Add);

            double[] kept = [.. blocks.Where(block => LoudnessScale.ToLufs(block) > -70)];
            double gate = LoudnessScale.ToLufs(kept.Average()) - 10;
            double below = MeanLufsAbove(kept, gate - 1.0 / 1024);
            double above = MeanLufsAbove(kept, gate + 1.0 / 1024);
            Assert.InRange(gated.Lufs, below - 1e-9, above + 1e-9);
        }
    }

    [Fact]
    public void LoudnessRangeIsWithinAThousandthOfSorting()
    {
        Random random = new(2);
        for (int programme = 0; programme < 50; programme++)
        {
            double[] values = RandomBlocks(random, 300 + programme);
            LoudnessRange range = new();
            Array.ForEach(values, range.Add);

            double[] kept = [.. values.Where(value => LoudnessScale.ToLufs(value) >= -70)];
            double gate = LoudnessScale.ToLufs(kept.Average()) - 20;
            double[] sorted = [.. kept.Select(LoudnessScale.ToLufs).Where(value => value >= gate).Order()];
            int low = (int)Math.Round((sorted.Length - 1) * 0.10, MidpointRounding.AwayFromZero);
            int high = (int)Math.Round((sorted.Length - 1) * 0.95, MidpointRounding.AwayFromZero);
            Assert.Equal(sorted[high] - sorted[low], range.Lu, 1.0 / 1024);
        }
    }

    [Theory]
    [InlineData(-69.999)]
    [InlineData(-23)]
    [InlineData(29.9)]
    [InlineData(45)]
    public void ASteadyLevelIsReadExactlyWhereverItLies(double lufs)
    {
        GatedLoudness gated = new();
        for (int i = 0; i < 100; i++)
        {
            gated.Add(LoudnessScale.ToMeanSquare(lufs));
        }

        Assert.Equal(lufs, gated.Lufs, 1e-9);
    }

    [Fact]
    public void WhatIsBelowTheAbsoluteGateDoesNotCount()
    {
        double justAbove = LoudnessScale.ToMeanSquare(-70 + 1e-9);
        double justBelow = LoudnessScale.ToMeanSquare(-70 - 1e-9);
        GatedLoudness gated = new();
        gated.Add(justBelow);
        gated.Add(0);
        Assert.Equal(double.NegativeInfinity, gated.Lufs);
        gated.Add(justAbove);
        Assert.Equal(-70, gated.Lufs, 1e-6);
    }

    [Fact]
    public void PercentilesFollowTheRankRuleOfTech3342()
    {
        // Eleven values 1 LU apart: the 10th percentile is number 2, the 95th number round(10.5) = 11.
        LoudnessRange range = new();
        for (int i = 0; i <= 10; i++)
        {
            range.Add(LoudnessScale.ToMeanSquare(-30 + i));
        }

        Assert.Equal(9, range.Lu, 1.0 / 1024);
    }

    [Fact]
    public void RanksWalkThroughTheBinsInOrder()
    {
        LoudnessHistogram histogram = new();
        int[] bins = [5, 5, 1_023, 1_024, 50_000, LoudnessHistogram.Bins - 1];
        Array.ForEach(bins, histogram.Add);
        for (int rank = 1; rank <= bins.Length; rank++)
        {
            Assert.Equal(bins[rank - 1], histogram.BinOfRank(rank));
        }

        Assert.Equal(6, histogram.CountFrom(0));
        Assert.Equal(4, histogram.CountFrom(6));
        Assert.Equal(3, histogram.CountFrom(1_024));
        Assert.Equal(1, histogram.CountFrom(LoudnessHistogram.Bins - 1));
        histogram.Reset();
        Assert.Equal(0, histogram.CountFrom(0));
    }

    private static double MeanLufsAbove(double[] blocks, double gate) =>
        LoudnessScale.ToLufs(blocks.Where(block => LoudnessScale.ToLufs(block) > gate).Average());

    // Two clusters with the gate between or inside them.
    private static double[] RandomBlocks(Random random, int count)
    {
        double middle = -40 + 30 * random.NextDouble();
        double spread = 2 + 25 * random.NextDouble();
        return [.. Enumerable.Range(0, count).Select(_ => LoudnessScale.ToMeanSquare(middle + spread * (2 * random.NextDouble() - 1)))];
    }
}
