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
    public void GroupDelayOfASmoothingFilterIsAnalytic()
    {
        // y[n] = (1 − a) x[n] + a y[n − 1] delays by a (cos ω − a) / (1 − 2 a cos ω + a²) samples:
        // Oppenheim and Schafer, "Discrete-Time Signal Processing", section 5.3 (from memory).
        ProbeReport report = new ProcessorProbe(new Smoothing(), 48_000).Measure(-20, CancellationToken.None);
        foreach (ResponsePoint point in report.Response)
        {
            double cosine = Math.Cos(2 * Math.PI * (point.FrequencyHz + 2) / 48_000);
            double samples = Smoothing.A * (cosine - Smoothing.A) / (1 - 2 * Smoothing.A * cosine + Smoothing.A * Smoothing.A);
            Assert.Equal(samples / 48, point.GroupDelayMs, 0.0005);
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
        using ProbedChain pair = new(TestSong.Chain(), parallel, BuiltInProcessors.Catalogue);
        ProbeReport report = new ProcessorProbe(pair, 48_000).Measure(-20, CancellationToken.None);
        Assert.All(report.Response, point => Assert.True(point.GainDb < -100, $"{point}"));
    }

    // The room's own tests hold 10 % over sixteen answers; four stray twice as far.
    [Theory]
    [InlineData(500)]
    [InlineData(1500)]
    public void RoomReportsItsDecayAndItsDensities(double rt60Ms)
    {
        Processor room = Configured("room", ("rt60Ms", rt60Ms), ("dampingPercent", 0), ("lowCutHz", 20));
        DecayReport decay = new ProcessorProbe(room, 48_000).Measure(-20, CancellationToken.None).Decay!;
        Assert.Equal([250, 500, 1000, 2000, 4000], decay.Octaves.Select(octave => octave.FrequencyHz));
        Assert.All(decay.Octaves, octave => Assert.InRange(octave.Seconds * 1000, 0.8 * rt60Ms, 1.2 * rt60Ms));
        Assert.InRange(decay.DenseFromSeconds!.Value, 0, 0.1);
        Assert.True(decay.ModesPerHertz >= decay.ModesNeededPerHertz);
    }

    [Theory]
    [InlineData("equaliser")]
    [InlineData("compressor")]
    [InlineData("limiter")]
    public void WhatDoesNotReverberateReportsNoDecay(string id) =>
        Assert.Null(new ProcessorProbe(Configured(id), 48_000).Measure(-20, CancellationToken.None).Decay);

    private sealed class Smoothing : IProbed
    {
        public const double A = 0.9;

        private double last;

        public int LatencyFrames => 0;

        public void Prepare(ProcessingFormat format)
        {
        }

        public void Reset() => last = 0;

        public void Process(Span<float> left, Span<float> right)
        {
            foreach (ref float sample in left)
            {
                last = (1 - A) * sample + A * last;
                sample = (float)last;
            }
        }
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
