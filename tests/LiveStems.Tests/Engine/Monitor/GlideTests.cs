using LiveStems.Engine.Monitor;
using Xunit;

namespace LiveStems.Tests.Engine.Monitor;

public class GlideTests
{
    private const int Frames = 480;

    // From rest the curve is 3t² − 2t³: its steepest slope is 1.5/T, its sharpest bend 6/T², per unit of rise.
    private const double SteepestStep = 1.5 / Frames;
    private const double SharpestBend = 6.0 / Frames / Frames;

    [Fact]
    public void ArrivesExactlyAndOnTime()
    {
        Glide glide = new(1);
        glide.MoveTo(0.1, Frames);
        for (int i = 0; i < Frames - 1; i++)
        {
            Assert.NotEqual(0.1, glide.Advance(1));
            Assert.True(glide.IsMoving);
        }

        Assert.Equal(0.1, glide.Advance(1));
        Assert.False(glide.IsMoving);
        Assert.Equal(0.1, glide.Advance(1));
    }

    [Fact]
    public void FollowsTheCubicFromRest()
    {
        Glide glide = new(0);
        glide.MoveTo(1, Frames);
        for (int i = 1; i <= Frames; i++)
        {
            double t = (double)i / Frames;
            Assert.Equal(t * t * (3 - 2 * t), glide.Advance(1), 1e-12);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(64)]
    [InlineData(480)]
    [InlineData(700)]
    public void NeitherStepsNorBendsSharplyHoweverOftenTheTargetChanges(int framesBetween)
    {
        // From any state within the unit square of value and slope the next cubic bends by at most (6 + 4 · 1.5)/T².
        Random random = new(framesBetween);
        Glide glide = new(0);
        double before = 0;
        double slopeBefore = 0;
        for (int i = 0; i < 100_000; i++)
        {
            if (i % framesBetween == 0)
            {
                glide.MoveTo(random.Next(2), Frames);
            }

            double value = glide.Advance(1);
            double slope = value - before;
            Assert.InRange(Math.Abs(slope), 0, 1.3 * SteepestStep);
            Assert.InRange(Math.Abs(slope - slopeBefore), 0, 2 * SharpestBend);
            Assert.InRange(value, -0.25, 1.25);
            (before, slopeBefore) = (value, slope);
        }
    }

    [Fact]
    public void SameValueAgainDoesNotDisturbAGlide()
    {
        Glide one = new(0);
        Glide other = new(0);
        one.MoveTo(1, Frames);
        other.MoveTo(1, Frames);
        for (int i = 0; i < Frames; i++)
        {
            other.MoveTo(1, Frames);
            Assert.Equal(one.Advance(1), other.Advance(1));
        }
    }
}
