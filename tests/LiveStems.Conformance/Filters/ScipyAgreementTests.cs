using System.Numerics;
using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Conformance.Filters;

/// <summary>Filters against scipy.signal: butter, sosfreqz, sosfilt and freqs.</summary>
public class ScipyAgreementTests
{
    private static readonly double[] Frequencies = [5, 20, 55, 180, 600, 997, 2000, 4100, 8000, 12_500, 16_000, 18_500, 20_000];

    [Fact]
    public void ButterworthIsScipysButter()
    {
        double[] expected = Scipy.Numbers($"""
            for order in range(1, 9):
                for kind in ('lowpass', 'highpass'):
                    sos = signal.butter(order, 1500, kind, fs=48000, output='sos')
                    w, h = signal.sosfreqz(sos, worN={Scipy.Write(Frequencies)}, fs=48000)
                    for x in h: print(repr(float(x.real))); print(repr(float(x.imag)))
            """);
        int next = 0;
        for (int order = 1; order <= 8; order++)
        {
            BiquadCoefficients[] low = new BiquadCoefficients[Butterworth.SectionCount(order)];
            BiquadCoefficients[] high = new BiquadCoefficients[low.Length];
            Butterworth.LowPass(order, 1500, 48_000, low);
            Butterworth.HighPass(order, 1500, 48_000, high);
            foreach (BiquadCoefficients[] sections in new[] { low, high })
            {
                foreach (double f in Frequencies)
                {
                    Complex response = sections.Aggregate(Complex.One, (product, c) => product * c.Response(2 * Math.PI * f / 48_000));
                    Complex reference = new(expected[next++], expected[next++]);
                    Assert.True(Complex.Abs(response - reference) < 1e-10, $"order {order}, {f} Hz: {response}, not {reference}");
                }
            }
        }
    }

    // The criterion of MatchedDesign: 0.1 dB to 20 kHz at 44.1 kHz, where the analogue filter is above −60 dB.
    [Fact]
    public void MatchedPassesFollowScipysAnalogueButterworth()
    {
        double[] corners = [100, 2500, 9000, 17_000, 20_000];
        double[] expected = Scipy.Numbers($"""
            for corner in {Scipy.Write(corners)}:
                for order in range(1, 9):
                    for kind in ('lowpass', 'highpass'):
                        b, a = signal.butter(order, 1, kind, analog=True)
                        w, h = signal.freqs(b, a, np.array({Scipy.Write(Frequencies)}) / corner)
                        for x in h: print(repr(float(20 * np.log10(abs(x)))))
            """);
        Queue<double[]> responses = new(expected.Chunk(Frequencies.Length));
        foreach (double corner in corners)
        {
            for (int order = 1; order <= 8; order++)
            {
                AssertMatches(new(FilterShape.LowPass, corner, 0, Math.Sqrt(0.5), order), responses.Dequeue());
                AssertMatches(new(FilterShape.HighPass, corner, 0, Math.Sqrt(0.5), order), responses.Dequeue());
            }
        }
    }

    // Analogue prototypes as read in [RBJ] (REFERENCES 3.1), written out for scipy.signal.freqs.
    [Theory]
    [InlineData(FilterShape.Bell, "[1, A/Q, 1]", "[1, 1/(A*Q), 1]")]
    [InlineData(FilterShape.LowShelf, "[A, A*A**.5/Q, A*A]", "[A, A**.5/Q, 1]")]
    [InlineData(FilterShape.HighShelf, "[A*A, A*A**.5/Q, A]", "[1, A**.5/Q, A]")]
    [InlineData(FilterShape.Notch, "[1, 0, 1]", "[1, 1/Q, 1]")]
    public void MatchedShapesFollowScipysAnalogueResponse(FilterShape shape, string numerator, string denominator)
    {
        (double FrequencyHz, double Q, double GainDb)[] settings =
            [(60, 0.5, 12), (3000, 8, -18), (12_000, 0.3, 24), (16_500, 2, -9), (19_700, 1, 15)];
        double[] expected = Scipy.Numbers($"""
            for f, Q, gain in [{string.Join(',', settings.Select(x => Scipy.Write([x.FrequencyHz, x.Q, x.GainDb])))}]:
                A = 10 ** (gain / 40)
                w, h = signal.freqs({numerator}, {denominator}, np.array({Scipy.Write(Frequencies)}) / f)
                for x in h: print(repr(float(20 * np.log10(abs(x)))))
            """);
        for (int i = 0; i < settings.Length; i++)
        {
            AssertMatches(
                new(shape, settings[i].FrequencyHz, settings[i].GainDb, settings[i].Q, 2),
                expected[(i * Frequencies.Length)..((i + 1) * Frequencies.Length)]);
        }
    }

    // Float output rounds to 2^-25 of its size; both filters work in double.
    [Fact]
    public void CascadeIsScipysSosfilt()
    {
        StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
        int count = MatchedDesign.Design(new(FilterShape.HighPass, 30, 0, 1, 8), 44_100, sections);
        StereoCascade cascade = new(count);
        for (int i = 0; i < count; i++)
        {
            cascade.Set(i, sections[i]);
        }

        float[] left = new float[4000], right = new float[4000];
        uint state = 1;
        for (int n = 0; n < left.Length; n++)
        {
            state = state * 1_664_525 + 1_013_904_223;
            left[n] = (state >> 16) / 65_536f - 0.5f;
            right[n] = -left[n];
        }

        IEnumerable<string> rows = sections.Take(count).Select(section => section.ToBiquad())
            .Select(c => Scipy.Write([c.B0, c.B1, c.B2, 1, c.A1, c.A2]));
        double[] expected = Scipy.Numbers($"""
            state, x = 1, []
            for n in range(4000):
                state = (state * 1664525 + 1013904223) & 0xffffffff
                x.append((state >> 16) / 65536 - 0.5)
            for y in signal.sosfilt([{string.Join(',', rows)}], x): print(repr(float(y)))
            """);
        cascade.Process(left, right);
        for (int n = 0; n < left.Length; n++)
        {
            Assert.Equal(expected[n], left[n], 1.0 / (1 << 24));
            Assert.Equal(-left[n], right[n]);
        }
    }

    private static void AssertMatches(FilterSettings settings, double[] expectedDb)
    {
        StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
        int count = MatchedDesign.Design(settings, 44_100, sections);
        for (int i = 0; i < Frequencies.Length; i++)
        {
            if (expectedDb[i] > -60)
            {
                double gain = sections.Take(count)
                    .Sum(section => Decibels.FromAmplitude(Complex.Abs(section.Response(2 * Math.PI * Frequencies[i] / 44_100))));
                Assert.True(Math.Abs(gain - expectedDb[i]) < 0.1, $"{settings} at {Frequencies[i]} Hz: {gain} dB, not {expectedDb[i]} dB");
            }
        }
    }
}
