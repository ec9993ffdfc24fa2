using LiveStems.Dsp.Filters;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class FilterBandTests
{
    private const int FadeSteps = 4;
    private static readonly FilterSettings Bell = new(FilterShape.Bell, 1000, 6, 1, 2);

    private readonly StereoCascade cascade = new(MatchedDesign.MaximumSections);
    private readonly FilterBand band;

    public FilterBandTests() => band = new FilterBand(cascade, 0);

    [Fact]
    public void BandThatStandsStillAsksForNothing()
    {
        band.Jump(Bell, true, 48_000, FadeSteps);
        Assert.False(band.Step(Bell, true, 48_000, FadeSteps));
        Assert.False(band.IsFading);
    }

    [Fact]
    public void FadeInTakesItsStepsAndEnds()
    {
        band.Jump(Bell, false, 48_000, FadeSteps);
        Assert.Equal(FadeSteps, Steps(Bell, true));
        Assert.False(band.Step(Bell, true, 48_000, FadeSteps));
    }

    [Fact]
    public void FadeOutEndsWithNothingInTheCascade()
    {
        band.Jump(Bell, true, 48_000, FadeSteps);
        Assert.Equal(FadeSteps, Steps(Bell, false));
        float[] left = Noise.White(100, 1), right = Noise.White(100, 2);
        float[] original = [.. left];
        cascade.Process(left, right);
        Assert.Equal(original, left);
    }

    [Fact]
    public void AnotherShapeFadesOutAndInAgain()
    {
        band.Jump(Bell, true, 48_000, FadeSteps);
        Assert.Equal(2 * FadeSteps, Steps(Bell with { Shape = FilterShape.HighPass }, true));
    }

    [Fact]
    public void AnotherOrderOfABellIsNoChange()
    {
        band.Jump(Bell, true, 48_000, FadeSteps);
        band.Step(Bell with { Order = 7 }, true, 48_000, FadeSteps);
        Assert.False(band.IsFading);
    }

    [Fact]
    public void ChangeOfMindInAFadeTurnsBack()
    {
        band.Jump(Bell, true, 48_000, FadeSteps);
        band.Step(Bell, false, 48_000, FadeSteps);
        cascade.Process(new float[32], new float[32]);
        Assert.Equal(1, Steps(Bell, true));
    }

    // Steps with 32 frames each until nothing fades; returns how many gave the cascade something to do.
    private int Steps(FilterSettings settings, bool isOn)
    {
        int moves = 0;
        do
        {
            if (band.Step(settings, isOn, 48_000, FadeSteps))
            {
                moves++;
                cascade.StartGlide(32);
            }

            cascade.Process(new float[32], new float[32]);
        }
        while (band.IsFading);

        return moves;
    }
}
