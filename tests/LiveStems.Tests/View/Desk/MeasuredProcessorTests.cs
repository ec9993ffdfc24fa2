using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Engine;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>What pictures of a processor are made of: measured, whatever its name is.</summary>
public sealed class MeasuredProcessorTests
{
    private const int SampleRate = 48_000;

    [Fact]
    public void AFactorIsTheSameEverywhereAndAtEveryLevel()
    {
        MeasuredProcessor found = Measure(TestProcessors.Catalogue, "scale", ("factor", 0.5));
        Assert.False(found.ActsOnLevel || found.ShapesFrequencies || found.TreatsSideApart || found.MovesAfterStep);
        Assert.Null(found.HarmonicsAtDbfs);
        Assert.Empty(found.HarmonicsDb);
        // 20 lg 0.5; tones are 32-bit floats.
        Assert.All(found.Response, point => Assert.Equal(-6.0206, point.GainDb, 1e-3));
        Assert.Equal(-26.0206, found.OutputDbfs(-20), 1e-3);
        Assert.Equal(-27.0206, found.OutputDbfs(-21), 1e-3);
    }

    [Fact]
    public void ACompressorActsOnTheLevelAndItsGainMovesAfterAStep()
    {
        MeasuredProcessor found = Measure(BuiltInProcessors.Catalogue, "compressor", ("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0));
        Assert.True(found.ActsOnLevel);
        Assert.True(found.MovesAfterStep);
        // Giannoulis, Massberg, Reiss 2012: y = T + (x − T)/R above the threshold, which is one of the measured levels.
        Assert.Equal(-17, found.OutputDbfs(-8), 0.1);
        Assert.Equal(-40, found.OutputDbfs(-40), 0.1);
    }

    [Fact]
    public void WidthIsSeenInTheSideAlone()
    {
        MeasuredProcessor found = Measure(BuiltInProcessors.Catalogue, "width", ("lowPercent", 50), ("middlePercent", 100), ("highPercent", 200), ("lowestCorrelation", -1));
        Assert.True(found.TreatsSideApart);
        Assert.False(found.ShapesFrequencies || found.ActsOnLevel);
        // 20 lg 0.5 and 20 lg 2, more than three octaves from the crossovers of 24 dB/oct.
        Assert.Equal(-6.02, found.SideResponse[0].GainDb, 0.1);
        Assert.Equal(6.02, found.SideResponse[^1].GainDb, 0.2);
    }

    [Fact]
    public void ATransientShaperIsSeenAfterAStepAndNotOnTheLevel()
    {
        MeasuredProcessor found = Measure(BuiltInProcessors.Catalogue, "transient-shaper", ("attackDb", 6));
        Assert.True(found.MovesAfterStep);
        Assert.False(found.ActsOnLevel);
    }

    [Fact]
    public void ASaturatorIsSeenByItsHarmonics()
    {
        MeasuredProcessor found = Measure(BuiltInProcessors.Catalogue, "saturator", ("driveDb", 12));
        Assert.Equal(MeasuredProcessor.HarmonicsDbfs, found.HarmonicsAtDbfs);
        Assert.NotEmpty(found.HarmonicsDb);
    }

    [Fact]
    public void OneThatBreaksIsNotTakenForOneThatDoesNothing()
    {
        ProbeException fault = Assert.Throws<ProbeException>(() => Measure(TestProcessors.Catalogue, "breaker"));
        Assert.Contains("breaker", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void OneThatBreaksOnWhatDiffersBetweenTheSidesIsNotTakenForOneThatLetsItBy()
    {
        ProbeException fault = Assert.Throws<ProbeException>(() => Measure(new ProcessorCatalogue([() => new BreaksOnSide()]), "breaks-on-side"));
        Assert.Contains("breaks-on-side", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void MeasuringEndsWhenItIsNotWantedAnyMore()
    {
        using CancellationTokenSource ending = new();
        ending.Cancel();
        Assert.Throws<OperationCanceledException>(() => MeasuredProcessor.Measure(TestSong.Slot("scale"), SampleRate, TestProcessors.Catalogue, ending.Token));
    }

    private static MeasuredProcessor Measure(ProcessorCatalogue catalogue, string id, params (string Id, double Value)[] values) =>
        MeasuredProcessor.Measure(TestSong.Slot(id, values), SampleRate, catalogue, CancellationToken.None);

    /// <summary>Delivers what is no number where the sides differ.</summary>
    private sealed class BreaksOnSide() : Processor(new ProcessorDescription("breaks-on-side", "Breaks on the side", 1, "For tests.", [], false))
    {
        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            if (!segment.Left.SequenceEqual(segment.Right))
            {
                segment.Left.Fill(float.NaN);
            }
        }
    }
}
