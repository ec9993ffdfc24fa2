using LiveStems.Engine.Comparing;
using Xunit;

namespace LiveStems.Tests.Engine.Comparing;

public class BlindTestTests
{
    [Theory]
    [InlineData(9, 10)]
    [InlineData(0, 1)]
    [InlineData(12, 16)]
    [InlineData(60, 100)]
    [InlineData(5, 5)]
    public void ChanceOfGuessingIsTheUpperTailOfTheBinomialDistribution(int hits, int tries)
    {
        // P(X ≥ h) = 1 − P(X ≤ h − 1) by MathNet, whose own error is about 1e-15.
        double expected = hits == 0 ? 1 : 1 - MathNet.Numerics.Distributions.Binomial.CDF(0.5, tries, hits - 1);
        Assert.Equal(expected, Binomial.AtLeast(hits, tries), 1e-12);
    }

    [Fact]
    public void KnownChancesAreExact()
    {
        Assert.Equal(11.0 / 1024, Binomial.AtLeast(9, 10));
        Assert.Equal(1.0 / 1024, Binomial.AtLeast(10, 10));
        Assert.Equal(1, Binomial.AtLeast(0, 0));
        Assert.Equal(1, Binomial.AtLeast(0, 1000), 1e-12);
    }

    [Fact]
    public void PickOfTheSideThatIsOutIsAHitAndSameCountsNeitherWay()
    {
        // The draws put "out" first, second, first, second, first.
        Queue<int> draws = new([0, 1, 0, 1, 0, 1]);
        BlindTest test = new(5, _ => draws.Dequeue());
        Assert.Equal(CompareSide.Out, test.SideOf(isFirst: true));
        Assert.Equal(CompareSide.In, test.SideOf(isFirst: false));
        test.Answer(BlindAnswer.First);
        Assert.Equal(CompareSide.In, test.SideOf(isFirst: true));
        test.Answer(BlindAnswer.Second);
        test.Answer(BlindAnswer.Second);
        test.Answer(BlindAnswer.Same);
        Assert.Null(test.Result);
        test.Answer(BlindAnswer.First);
        Assert.Equal(new BlindResult(5, 3, 1), test.Result);
        Assert.Equal("3 of 4 right (1 more heard as the same); by guessing so many or more: 31.25 %", test.Result!.Words);
        Assert.Throws<InvalidOperationException>(() => test.Answer(BlindAnswer.Same));
    }

    [Fact]
    public void SidesComeInBothOrders()
    {
        // Of 100 fair draws all alike come up once in 2^99 runs.
        BlindTest test = new(100);
        HashSet<CompareSide> first = [];
        while (!test.IsOver)
        {
            first.Add(test.SideOf(isFirst: true));
            Assert.NotEqual(test.SideOf(isFirst: true), test.SideOf(isFirst: false));
            test.Answer(BlindAnswer.Same);
        }

        Assert.Equal(2, first.Count);
        Assert.Equal("no side picked in 100 rounds, all heard as the same", test.Result!.Words);
    }
}
