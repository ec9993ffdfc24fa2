using System.Numerics;
using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class FilterBandTests
{
    private const int FadeSteps = 4;
    private static readonly FilterSettings Bell = new(FilterShape.Bell, 1000, 6, 1, 2);

    // So high that all its sections matter.
    private static readonly FilterSettings High = new(FilterShape.Bell, 12_000, 12, 1, 2);

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
        band.Jump(High, false, 48_000, FadeSteps);
        Assert.Equal(FadeSteps, Steps(High, true));
        Assert.False(band.Step(High, true, 48_000, FadeSteps));
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
        band.Jump(High, true, 48_000, FadeSteps);
        Assert.Equal(2 * FadeSteps, Steps(High with { Shape = FilterShape.LowPass }, true));
    }

    [Fact]
    public void AnotherOrderOfABellIsNoChange()
    {
        band.Jump(High, true, 48_000, FadeSteps);
        Assert.Equal(0, Steps(High with { Order = 7 }, true));
    }

    [Fact]
    public void ChangeOfMindInAFadeTurnsBack()
    {
        band.Jump(High, true, 48_000, FadeSteps);
        band.Step(High, false, 48_000, FadeSteps);
        cascade.StartGlide(32);
        cascade.Process(new float[32], new float[32]);
        Assert.Equal(1, Steps(High, true));
    }

    // A bell of 6 dB at 100 Hz needs one section of its three (SectionAudibility); the step after its arrival fades the
    // others out.
    [Fact]
    public void SectionsThatChangeNothingAreLeftOutOnceTheBandStandsStill()
    {
        FilterSettings low = Bell with { FrequencyHz = 100 };
        band.Jump(low, true, 48_000, FadeSteps);
        Assert.Equal(1, cascade.ActiveSections);
        band.Step(low with { GainDb = 5 }, true, 48_000, FadeSteps);
        Assert.Equal(3, cascade.ActiveSections);
        cascade.StartGlide(32);
        Assert.Equal(1, Steps(low with { GainDb = 5 }, true));
        Assert.Equal(1, cascade.ActiveSections);
    }

    [Fact]
    public void BandEndsUpTheSameWhicheverWayItCame()
    {
        band.Jump(High with { GainDb = -6 }, true, 48_000, FadeSteps);
        Steps(Bell, true);
        StereoCascade other = new(MatchedDesign.MaximumSections);
        new FilterBand(other, 0).Jump(Bell, true, 48_000, FadeSteps);
        (float[] moved, float[] set) = (Noise.White(1000, 1), Noise.White(1000, 1));
        cascade.Reset();
        cascade.Process(moved, new float[1000]);
        other.Process(set, new float[1000]);
        Assert.Equal(set, moved);
    }

    // What a band at rest leaves out stays within 0.05 dB together, whatever the filter.
    [Fact]
    public void WhatIsLeftOutIsInaudible()
    {
        Random random = new(3);
        StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
        int leftOut = 0;
        for (int trial = 0; trial < 2000; trial++)
        {
            FilterSettings settings = new(
                (FilterShape)random.Next(7), 10 * Math.Pow(2000, random.NextDouble()), (48 * random.NextDouble() - 24) * Math.Pow(random.NextDouble(), 4),
                0.1 * Math.Pow(400, random.NextDouble()), random.Next(1, 9));
            int count = MatchedDesign.Design(settings, 44_100, sections);
            band.Jump(settings, true, 44_100, FadeSteps);
            leftOut += count - cascade.ActiveSections;
            StateVariableCoefficients[] absent = [.. Enumerable.Range(0, count).Where(i => !cascade.IsActive(i)).Select(i => sections[i])];
            double own = 2 * Math.PI * settings.FrequencyHz / 44_100;
            for (double omega = 0.001; omega < Math.PI; omega *= 1.1)
            {
                AssertInaudible(absent, omega, settings);
                AssertInaudible(absent, Math.Min(3.1, own * (1 + 0.01 * (omega - 1))), settings);
            }
        }

        Assert.True(leftOut > 1000);
    }

    private static void AssertInaudible(StateVariableCoefficients[] absent, double omega, FilterSettings settings)
    {
        Complex all = absent.Aggregate(Complex.One, (product, c) => product * c.Response(omega));
        double change = Decibels.FromAmplitude(Complex.Abs(all));
        Assert.True(Math.Abs(change) <= 0.05, $"{settings} at {omega}: {change} dB");
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
