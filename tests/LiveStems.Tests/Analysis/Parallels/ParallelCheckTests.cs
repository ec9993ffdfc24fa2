using LiveStems.Albums.Model;
using LiveStems.Analysis.Parallels;
using LiveStems.Engine.Comparing;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Tests.Analysis.Parallels;

public sealed class ParallelCheckTests : IDisposable
{
    private const int SampleRate = TestSong.SampleRate;

    private readonly TestSong song = new();

    public void Dispose() => song.Dispose();

    [Fact]
    public void CombOfADelayedCopyIsThatOfTheFormula()
    {
        // Dry plus the same τ later: |1 + e^(−jωτ)|² / 2 of the power of its parts. With τ = 0.25 ms the first notch lies at
        // 2 kHz; in a third octave the mean of the formula over the band.
        const int Delay = 12;
        AddNoise(TestSong.ParallelPath(false, 0) with { AlignSamples = Delay });
        ParallelCheckReport report = Check();
        Assert.Equal(Delay, report.Delay!.Value.Samples, 0.01);
        foreach (PairBand band in report.Bands.Where(band => band.Band.MidHz is > 100 and < 15_000))
        {
            double expected = Mean(band.Band.LowerHz, band.Band.UpperHz, hertz => 1 + Math.Cos(2 * Math.PI * hertz * Delay / SampleRate));

            // Ten seconds of noise: the cross term of a band of 23 Hz at 100 Hz has a spread of 1/√(2 · 23 · 10) of the parts.
            double spread = 4 / Math.Sqrt(2 * band.Band.WidthHz * 10);
            Assert.InRange(Math.Pow(10, band.SumDb / 10), expected - spread, expected + spread);
        }

        PairBand notch = report.Bands.Single(band => band.Band.NominalHz == 2000);
        Assert.True(notch.IsLoss);
        Assert.True(notch.NotchDb < -20, $"{notch.NotchDb}");
        Assert.InRange(notch.NotchHz, 1970, 2030);
        Assert.False(report.Bands.Single(band => band.Band.NominalHz == 125).IsLoss);
    }

    [Fact]
    public void AlignedCopyAddsUpEverywhereAndATurnedOverOneNowhere()
    {
        AddNoise(TestSong.ParallelPath(true, 0));
        ParallelCheckReport right = Check();
        Assert.Empty(right.Losses);
        Assert.False(right.IsTurnedOver);
        Assert.All(right.Bands.Where(band => band.DryDbfs > -120), band => Assert.Equal(3.0103, band.SumDb, 0.001));

        Stem stem = song.Song.Stems[0];
        Parallel turned = stem.Parallels[0] with { BlendDb = -6.0206, Chain = TestSong.Chain(TestSong.Slot("gain", ("invertLeft", 1), ("invertRight", 1))) };
        song.Song = song.Song with { Stems = [stem with { Parallels = [turned] }] };
        ParallelCheckReport wrong = Check();
        Assert.True(wrong.IsTurnedOver);

        // 1 − ½ against 1 + ½: 20 log 3; and (1 − ½)² over 1 + ¼ is −7 dB.
        Assert.Equal(9.542, wrong.TurnedOverLufs - wrong.BothLufs, 0.01);
        Assert.All(wrong.Bands.Where(band => band.DryDbfs > -120), band => Assert.Equal(-6.9897, band.SumDb, 0.001));
    }

    [Theory]
    [InlineData(7.0)]
    [InlineData(7.31)]
    [InlineData(-20.64)]
    public void AlignmentThatIsFoundBringsTheParallelInTime(double late)
    {
        AddNoise(TestSong.ParallelPath(true, -3) with { AlignSamples = late });
        ParallelCheckReport found = Check();
        Assert.Equal(late, found.Delay!.Value.Samples, 0.01);
        Assert.Equal(0, found.BestAlignSamples, 0.01);
    }

    [Fact]
    public void LatenciesOfTheChainAreMadeUpForWithoutAnyAlignment()
    {
        AddNoise(TestSong.ParallelPath(false, -3, TestSong.Slot("limiter", ("inputGainDb", -12))));
        ParallelCheckReport found = Check();
        Assert.Equal(0, found.Delay!.Value.Samples, 0.01);
        Assert.Equal(1, found.Delay.Value.Correlation, 0.001);
    }

    [Fact]
    public void SilentParallelIsToldInOneLine()
    {
        float[] silence = new float[SampleRate];
        song.AddStem("a", silence, silence, stem => stem with { Parallels = [TestSong.ParallelPath(true, 0)] });
        Assert.Contains("'a' is silent", Assert.Throws<ComparisonException>(Check).Message, StringComparison.Ordinal);
        Assert.Contains("has no parallel 'x'", Assert.Throws<ComparisonException>(() => Check("x")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void LinkedEqualiserShapesTheParallelAsItShapesTheStem()
    {
        AddNoise(TestSong.ParallelPath(false, 0) with { IsEqualiserLinked = true });
        Stem stem = song.Song.Stems[0];
        song.Song = song.Song with
        {
            Stems = [stem with { Chain = TestSong.Chain(TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", 12), ("band2.frequencyHz", 1000)), TestSong.Slot("gain", ("gainDb", -6))) }],
        };
        ParallelCheckReport linked = Check();
        Assert.All(linked.Bands.Where(band => band.DryDbfs > -120), band => Assert.Equal(6, band.ParallelDbfs - band.DryDbfs, 0.01));
    }

    private static double Mean(double from, double to, Func<double, double> of) =>
        Enumerable.Range(0, 1000).Average(i => of(from + (to - from) * (i + 0.5) / 1000));

    private void AddNoise(Parallel parallel)
    {
        float[] noise = Noise.White(10 * SampleRate, 7, 0.2f);
        song.AddStem("a", noise, noise, stem => stem with { Parallels = [parallel] });
    }

    private ParallelCheckReport Check() => Check("Under");

    private ParallelCheckReport Check(string parallel) =>
        ParallelCheck.Measure(song.Song, "a", parallel, song.Folder, BuiltInProcessors.Catalogue, null, CancellationToken.None);
}
