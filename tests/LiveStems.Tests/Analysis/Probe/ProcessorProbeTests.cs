using LiveStems.Analysis.Probe;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Analysis.Probe;

public class ProcessorProbeTests
{
    [Fact]
    public void ResponseOfAnEqualiserIsThatOfItsPrototype()
    {
        Processor equaliser = Configured("equaliser", ("band1.on", 0), ("band2.on", 1), ("band2.frequencyHz", 2000), ("band2.gainDb", -9), ("band2.q", 2));
        ProbeReport report = new ProcessorProbe(equaliser, 48_000).Measure(-20, CancellationToken.None);
        FilterSettings settings = new(FilterShape.Bell, 2000, -9, 2, 2);
        Assert.Equal(0, report.LatencyFrames);

        // The equaliser keeps within 0.1 dB of the analogue prototype; the probe adds the rounding of its float tones.
        Assert.All(report.Response, point => Assert.Equal(AnaloguePrototype.GainDb(settings, point.FrequencyHz), point.GainDb, 0.1));
    }

    [Fact]
    public void LevelCurveOfACompressorIsThatOfItsComputer()
    {
        // Giannoulis, Massberg, Reiss 2012: T −20 dB, R 4, hard knee gives y = T + (x − T)/R above the threshold.
        Processor compressor = Configured("compressor", ("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0));
        ProbeReport report = new ProcessorProbe(compressor, 48_000).Measure(-60, CancellationToken.None);
        Assert.All(report.Levels, point =>
        {
            double expected = point.InputDbfs <= -20 ? point.InputDbfs : -20 + ((point.InputDbfs + 20) / 4);
            Assert.Equal(expected, point.OutputDbfs, 0.1);
        });
    }

    [Fact]
    public void PhaseIsFreeOfTheLatencyThatTheProcessorStates()
    {
        Processor limiter = Configured("limiter");
        ProbeReport report = new ProcessorProbe(limiter, 48_000).Measure(-20, CancellationToken.None);
        Assert.True(report.LatencyFrames > 0);
        Assert.All(report.Response, point => Assert.Equal(0, point.PhaseDegrees, 0.01));
    }

    private static Processor Configured(string id, params (string Id, double Value)[] parameters)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        foreach ((string parameter, double value) in parameters)
        {
            processor.SetParameter(processor.Description.IndexOf(parameter), value);
        }

        return processor;
    }
}
