using LiveStems.Analysis.Measuring;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Measuring;

public class LoudnessTimelineTests
{
    [Fact]
    public void PointsAreMergedSoThatMemoryDoesNotGrow()
    {
        const int rate = 8000;
        LoudnessTimeline timeline = new(rate);
        float[] second = Noise.White(rate, 1, 0.2f);
        for (int i = 0; i < 1000; i++)
        {
            timeline.Add(second, second);
        }

        timeline.Finish();
        Assert.InRange(timeline.Points.Count, LoudnessTimeline.MostPoints / 2, LoudnessTimeline.MostPoints);
        Assert.Equal(0.4, timeline.SecondsPerPoint);
        Assert.Equal(1000, timeline.Points[^1].Seconds, 0.5);
        double[] loudness = [.. timeline.Points.Skip(10).Select(point => point.ShortTermLufs)];
        Assert.Equal(loudness.Min(), loudness.Max(), 0.2);
    }

    [Fact]
    public void OppositeSidesHaveACorrelationOfMinusOneAndBlocksDoNotMatter()
    {
        float[] left = Noise.White(48_000, 1, 0.2f), right = [.. left.Select(sample => -sample)];
        LoudnessTimeline whole = new(48_000), pieces = new(48_000);
        whole.Add(left, right);
        for (int start = 0; start < left.Length; start += 777)
        {
            int count = Math.Min(777, left.Length - start);
            pieces.Add(left.AsSpan(start, count), right.AsSpan(start, count));
        }

        Assert.Equal(whole.Finish(), pieces.Finish());
        Assert.Equal(10, whole.Points.Count);
        Assert.All(whole.Points, point => Assert.Equal(-1, point.Correlation, 1e-9));
        Assert.Equal(whole.Points.Select(point => point.TruePeakDbtp), pieces.Points.Select(point => point.TruePeakDbtp));
    }

    [Fact]
    public void SharesOfPartsFollowTheirPowerAndAddUp()
    {
        const int rate = 48_000;
        float[] loud = Noise.White(5 * rate, 1, 0.4f), soft = Noise.White(5 * rate, 2, 0.2f);
        float[] sum = [.. loud.Zip(soft, (a, b) => a + b)];
        StemShares shares = new(2, rate);
        shares.Add([sum, sum], [[loud, loud], [soft, soft]], sum.Length);
        IReadOnlyList<StemShare> result = shares.Finish(["Loud", "Soft"]);

        // Twice the amplitude is four times the power; both over 5 s of noise to 1 %.
        Assert.Equal(0.8, result[0].LoudnessShare, 0.01);
        Assert.Equal(1, result.Sum(stem => stem.LoudnessShare), 1e-9);

        // The sum's highest peaks are where both are close to their own, 0.4 and 0.2.
        Assert.Equal(2 / 3.0, result[0].PeakShare, 0.02);
        Assert.Equal(1, result.Sum(stem => stem.PeakShare), 1e-5);
    }
}
