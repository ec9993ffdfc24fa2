using LiveStems.Dsp;
using LiveStems.Dsp.Spectral;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Processing;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>Parameters that move add no sound of their own.</summary>
public class ZipperNet
{
    private const int SampleRate = ProcessorUnderTest.SampleRate;
    private const int Settling = SampleRate / 4;
    private const int Sweep = SampleRate / 2;
    private const int Size = 16_384;
    private const double Amplitude = 0.25;

    // Steps at the control rate, 1500 Hz, would stand around its multiples, ± the tone. A gain that moves by s dB a second and
    // jumps every control interval leaves a sawtooth of s/1500 dB, its first partial at s/1500 · ln 10 / 20 / π: −70 dB of
    // the tone for 13 dB a second. On straight lines between the same points the curve's error is h² g″/8: −98 dB for 168 dB
    // a second (84 dB in half a second).
    private const double LoudestDb = -70;

    // What fills the neighbourhood as well is the movement itself and no trace of its steps.
    private const double AboveNeighboursDb = 6;

    // Delays move by cross-fades, one after the other here: their jumps have tests of their own.
    private static readonly (string Processor, string Parameter)[] Exceptions = [("gain", "delaySamples"), ("room", "preDelayMs")];

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void ParametersThatSweepLeaveNothingAtTheControlRate(string id)
    {
        List<string> faults = [];
        IReadOnlyList<ParameterSpec> parameters = ActingSettings.Prepared(id, SampleRate).Description.Parameters;
        for (int parameter = 0; parameter < parameters.Count; parameter++)
        {
            ParameterSpec spec = parameters[parameter];
            if (!spec.IsStructural && spec.Taper != Taper.Stepped && !Exceptions.Contains((id, spec.Id)) && !IsAnotherBand(spec.Id))
            {
                double worst = Math.Max(Spurs(id, parameter, 0, 1), Spurs(id, parameter, 1, 0));
                if (worst > LoudestDb)
                {
                    faults.Add($"{spec.Id}: {worst:0.0} dB");
                }
            }
        }

        Assert.True(faults.Count == 0, $"{id}: {string.Join(", ", faults)}");
    }

    // The loosest bound that a step still breaks: a cross-fade over one control interval between two versions of the tone,
    // opposite in polarity at worst, each as loud as the loudest there is.
    [Theory]
    [MemberData(nameof(Ids))]
    public void ParametersThatSwitchDoNotStep(string id)
    {
        List<string> faults = [];
        IReadOnlyList<ParameterSpec> parameters = ActingSettings.Prepared(id, SampleRate).Description.Parameters;
        for (int parameter = 0; parameter < parameters.Count; parameter++)
        {
            ParameterSpec spec = parameters[parameter];
            for (double value = spec.Minimum; spec.Taper == Taper.Stepped && !spec.IsStructural && !IsAnotherBand(spec.Id) && value <= spec.Maximum; value++)
            {
                Processor processor = ActingSettings.Prepared(id, SampleRate);
                (float[] left, float[] right) = Tone(100, 2 * Settling);
                ActingSettings.Run(processor, left.AsSpan(0, Settling), right.AsSpan(0, Settling));
                double before = Smoothness.SharpestBend(left.AsSpan(Settling / 2, Settling / 2));
                processor.SetParameter(parameter, value);
                ActingSettings.Run(processor, left.AsSpan(Settling), right.AsSpan(Settling));
                float[] heard = left[(Settling / 2)..];
                double after = Smoothness.SharpestBend(left.AsSpan(2 * Settling - Settling / 4));
                double bound = Smoothness.BendOfCrossFade(2 * Math.PI * 100 / SampleRate, heard.Max(Math.Abs), 2 * heard.Max(Math.Abs), Processor.ControlInterval);
                double sharpest = Smoothness.SharpestBend(heard);
                if (sharpest > Math.Max(bound, 1.5 * Math.Max(before, after)))
                {
                    faults.Add($"{spec.Id} to {value}: {sharpest:0.0000}, bound {bound:0.0000}");
                }
            }
        }

        Assert.True(faults.Count == 0, $"{id}: {string.Join(", ", faults)}");
    }

    // The equaliser's bands are twelve of a kind: two of them speak for all.
    private static bool IsAnotherBand(string id) =>
        id.StartsWith("band", StringComparison.Ordinal) && !id.StartsWith("band1.", StringComparison.Ordinal) && !id.StartsWith("band2.", StringComparison.Ordinal);

    // The de-esser's tone lies where it acts.
    private static double Frequency(string id) => id == "de-esser" ? 3610 : 610;

    private static (float[] Left, float[] Right) Tone(double frequencyHz, int frames)
    {
        float[] left = new float[frames], right = new float[frames];
        for (int n = 0; n < frames; n++)
        {
            double phase = 2 * Math.PI * frequencyHz * n / SampleRate;
            (left[n], right[n]) = ((float)(Amplitude * Math.Sin(phase)), (float)(Amplitude * Math.Sin(phase + 0.8)));
        }

        return (left, right);
    }

    private static double Spurs(string id, int parameter, double from, double to)
    {
        Processor processor = ActingSettings.Prepared(id, SampleRate);
        ParameterSpec spec = processor.Description.Parameters[parameter];
        processor.SetParameter(parameter, spec.FromTravel(from));
        processor.Reset();
        int frames = Settling + Sweep + processor.LatencyFrames;
        (float[] left, float[] right) = Tone(Frequency(id), frames);
        ActingSettings.Run(processor, left.AsSpan(0, Settling), right.AsSpan(0, Settling));
        for (int start = Settling; start < frames; start += 480)
        {
            int count = Math.Min(480, frames - start);
            processor.SetParameter(parameter, spec.FromTravel(from + (to - from) * (start + 480 - Settling) / Sweep));
            ActingSettings.Run(processor, left.AsSpan(start, count), right.AsSpan(start, count));
        }

        int first = Settling + processor.LatencyFrames + (Sweep - Size) / 2;
        return LoudestSpurDb(left.AsSpan(first, Size), Frequency(id));
    }

    private static double LoudestSpurDb(ReadOnlySpan<float> sound, double toneHz)
    {
        DoubleFourierTransform transform = new(Size);
        double[] windowed = new double[Size], real = new double[transform.Bins], imaginary = new double[transform.Bins];
        for (int n = 0; n < Size; n++)
        {
            // Blackman and Harris, four terms (F. J. Harris, 1978): nothing of the tone above −92 dB beside it.
            double t = 2 * Math.PI * (n + 0.5) / Size;
            windowed[n] = sound[n] * (0.35875 - 0.48829 * Math.Cos(t) + 0.14128 * Math.Cos(2 * t) - 0.01168 * Math.Cos(3 * t));
        }

        transform.Forward(windowed, real, imaginary);
        double full = Amplitude * 0.35875 * Size / 2;
        double loudest = full * full;
        double spur = 0;
        double neighbours = 0;
        for (int bin = 0; bin < transform.Bins; bin++)
        {
            double power = real[bin] * real[bin] + imaginary[bin] * imaginary[bin];
            loudest = Math.Max(loudest, power);
            double hertz = (double)bin * SampleRate / Size;
            spur = IsNearSpur(hertz, toneHz, 0, 30) ? Math.Max(spur, power) : spur;
            neighbours = IsNearSpur(hertz, toneHz, 60, 140) ? Math.Max(neighbours, power) : neighbours;
        }

        return spur > neighbours * Decibels.ToPower(AboveNeighboursDb) ? Decibels.FromPower(spur / loudest + 1e-20) : -200;
    }

    // So far from a multiple of the control rate ± the tone, and 40 Hz or more from all harmonics.
    private static bool IsNearSpur(double hertz, double toneHz, double from, double to)
    {
        const double ControlRate = (double)SampleRate / Processor.ControlInterval;
        double nearest = double.PositiveInfinity;
        for (int multiple = 1; multiple <= 10; multiple++)
        {
            nearest = Math.Min(nearest, Math.Abs(hertz - Math.Abs(multiple * ControlRate - toneHz)));
            nearest = Math.Min(nearest, Math.Abs(hertz - multiple * ControlRate - toneHz));
        }

        return nearest >= from && nearest < to && hertz < 20_000 && Math.Abs(hertz / toneHz - Math.Round(hertz / toneHz)) * toneHz >= 40;
    }
}
