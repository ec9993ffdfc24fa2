using LiveStems.Analysis.Probe;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Engine;
using Xunit;
using Parallel = LiveStems.Albums.Model.Parallel;

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

    [Fact]
    public void GroupDelayOfAButterworthLowPassIsThatOfItsPoles()
    {
        // Second order, s² + √2 s + 1: delay √2 (1 + w²) / (1 + w⁴) / ωc, from the phase −atan(√2 w / (1 − w²)).
        Processor equaliser = Configured("equaliser", ("band1.on", 1), ("band1.shape", 3), ("band1.frequencyHz", 1000), ("band1.slopeDbPerOctave", 1), ("band1.q", Math.Sqrt(0.5)));
        ProbeReport report = new ProcessorProbe(equaliser, 96_000).Measure(-20, CancellationToken.None);
        foreach (ResponsePoint point in report.Response.Where(point => point.FrequencyHz is > 40 and < 4000))
        {
            // The probe's phase difference spans 4 Hz, from the tone upwards.
            double w = (point.FrequencyHz + 2) / 1000;
            double expected = Math.Sqrt(2) * (1 + w * w) / (1 + w * w * w * w) / (2 * Math.PI * 1000) * 1000;
            Assert.Equal(expected, point.GroupDelayMs, 0.003);
        }
    }

    [Fact]
    public void StepOfACompressorFallsToItsCurveAndComesBack()
    {
        Processor compressor = Configured("compressor", ("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0), ("attackMs", 10), ("releaseMs", 100));
        IReadOnlyList<StepPoint> step = new ProcessorProbe(compressor, 48_000).Measure(-60, CancellationToken.None).Step;

        // −6 dBFS lies 14 dB above the threshold, of which three quarters are taken away.
        Assert.Equal(0, step.Last(point => point.Seconds < -0.01).GainDb, 0.02);
        Assert.Equal(-10.5, step.Last(point => point.Seconds < 0.99).GainDb, 0.1);
        Assert.Equal(0, step[^1].GainDb, 0.1);
        Assert.True(step.First(point => point.GainDb < -9.45).Seconds is > 0.005 and < 0.06);
    }

    [Fact]
    public void HarmonicsOfACubicAreAnalytic()
    {
        // (x − x³/3) of a sine of amplitude a: third harmonic a³/12 under a fundamental of a − a³/4.
        ProbeReport report = new ProcessorProbe(new Cubic(), 48_000).Measure(-20, CancellationToken.None);
        foreach (LevelPoint point in report.Levels.Where(point => point.InputDbfs >= -30))
        {
            double a = Math.Pow(10, point.InputDbfs / 20);
            double expected = 20 * Math.Log10(a * a * a / 12 / (a - a * a * a / 4));
            Assert.Equal(expected, point.HarmonicsDb[1], 0.02);
            Assert.True(point.HarmonicsDb[0] < -110);
        }
    }

    [Fact]
    public void SilenceThroughABuiltInProcessorIsSilence() =>
        Assert.Equal(double.NegativeInfinity, new ProcessorProbe(Configured("saturator"), 48_000).Measure(-20, CancellationToken.None).NoiseFloorDbfs);

    [Fact]
    public void ParallelOfTurnedPolarityTakesItsDryStemAway()
    {
        // The parallel's look-ahead is later than the stem: only aligned do they cancel.
        Parallel parallel = TestSong.ParallelPath(false, 0, TestSong.Slot("gain", ("invertLeft", 1), ("invertRight", 1)), TestSong.Slot("limiter", ("ceilingDbtp", 0)));
        ProbedChain pair = new(TestSong.Chain(), parallel, BuiltInProcessors.Catalogue);
        ProbeReport report = new ProcessorProbe(pair, 48_000).Measure(-20, CancellationToken.None);
        Assert.All(report.Response, point => Assert.True(point.GainDb < -100, $"{point}"));
    }

    private sealed class Cubic : IProbed
    {
        public int LatencyFrames => 0;

        public void Prepare(ProcessingFormat format)
        {
        }

        public void Reset()
        {
        }

        public void Process(Span<float> left, Span<float> right)
        {
            foreach (ref float sample in left)
            {
                sample -= sample * sample * sample / 3;
            }
        }
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
