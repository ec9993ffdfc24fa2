using System.Numerics;
using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

/// <summary>
/// The criterion: at every frequency to 20 kHz where the analogue prototype is above −60 dB, the digital filter is within
/// 0.1 dB of it, over the whole space of settings.
/// </summary>
public class MatchedDesignTests
{
    private const double ToleranceDb = 0.1;
    private const double FloorDb = -60;
    private const double HighestHz = 20_000;

    public static TheoryData<FilterShape, int> ShapesAndRates()
    {
        TheoryData<FilterShape, int> data = [];
        foreach (FilterShape shape in Enum.GetValues<FilterShape>())
        {
            foreach (int rate in new[] { 44_100, 48_000, 96_000, 192_000 })
            {
                data.Add(shape, rate);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(ShapesAndRates))]
    public void MagnitudeFollowsTheAnaloguePrototypeToTwentyKilohertz(FilterShape shape, int sampleRate)
    {
        Random random = new(700 + (int)shape);
        StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
        for (int trial = 0; trial < 1000; trial++)
        {
            FilterSettings settings = RandomSettings(random, shape);
            int count = MatchedDesign.Design(settings, sampleRate, sections);
            Assert.Equal(MatchedDesign.SectionCount(shape, settings.Order), count);
            foreach (double f in Frequencies(settings))
            {
                double wanted = AnaloguePrototype.GainDb(settings, f);
                if (wanted > FloorDb)
                {
                    double error = GainDb(sections.AsSpan(0, count), f, sampleRate) - wanted;
                    Assert.True(Math.Abs(error) <= ToleranceDb, $"{error} dB at {f} Hz of {wanted} dB: {settings}");
                }
            }
        }
    }

    [Theory]
    [InlineData(8_000)]
    [InlineData(44_100)]
    [InlineData(384_000)]
    public void EverySectionIsStableAndOfMinimumPhase(int sampleRate)
    {
        Random random = new(11);
        StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
        for (int trial = 0; trial < 5000; trial++)
        {
            FilterSettings settings = RandomSettings(random, (FilterShape)(trial % 7)) with
            {
                FrequencyHz = 10 * Math.Pow(4000, random.NextDouble()),
            };
            int count = MatchedDesign.Design(settings, sampleRate, sections);
            foreach (StateVariableCoefficients c in sections.AsSpan(0, count))
            {
                // Numerator n2 s² + n1 s + n0 in the bilinear plane: no root right of the axis means no zero outside the
                // unit circle.
                double n1 = c.Band + c.Direct * c.K;
                double n0 = c.Low + c.Direct;
                Assert.True(c.G > 0 && c.K > 0 && double.IsFinite(c.G) && double.IsFinite(c.K), $"{settings}: {c}");
                double rounding = 1e-9 * c.Direct * Math.Max(1, c.K);
                Assert.True(c.Direct > 0 && n1 >= -rounding && n0 >= -rounding, $"{settings}: {c}");
            }
        }
    }

    [Fact]
    public void NotchTakesItsCentreAway()
    {
        StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
        foreach (double f in new[] { 10, 50, 1000, 12_345, 20_000, 21_600 })
        {
            int count = MatchedDesign.Design(new(FilterShape.Notch, f, 0, 10, 1), 44_100, sections);
            Assert.True(GainDb(sections.AsSpan(0, count), f, 44_100) < -120);
        }
    }

    [Fact]
    public void FlatSettingsPassSoundUnchanged()
    {
        StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
        foreach (FilterShape shape in new[] { FilterShape.Bell, FilterShape.LowShelf, FilterShape.HighShelf, FilterShape.Tilt })
        {
            int count = MatchedDesign.Design(new(shape, 9000, 0, 3, 1), 44_100, sections);
            Assert.Equal(0, GainDb(sections.AsSpan(0, count), 15_000, 44_100), 1e-9);
        }
    }

    private static FilterSettings RandomSettings(Random random, FilterShape shape)
    {
        double frequency = random.Next(3) == 0 ? 10 * Math.Pow(2000, random.NextDouble()) : HighestHz * Math.Pow(4, -random.NextDouble());
        double q = random.Next(4) switch { 0 => 0.1, 1 => 40, _ => 0.1 * Math.Pow(400, random.NextDouble()) };
        double gain = random.Next(4) switch { 0 => 24, 1 => -24, _ => 48 * random.NextDouble() - 24 };
        return new(shape, frequency, gain, q, random.Next(1, 9));
    }

    // All over, and thick around the filter's own frequency and where its shelf resonates.
    private static IEnumerable<double> Frequencies(FilterSettings settings)
    {
        double shift = settings.Shape is FilterShape.Bell or FilterShape.Notch ? 1 : Math.Pow(10, Math.Abs(settings.GainDb) / 80);
        double span = 2 / Math.Max(1, settings.Q * 0.3);
        for (int k = 0; k <= 24; k++)
        {
            yield return 5 * Math.Pow(HighestHz / 5, k / 24.0);
            foreach (double centre in new[] { 1, shift, 1 / shift })
            {
                double f = settings.FrequencyHz * centre * Math.Pow(2, span * (k - 12) / 12);
                if (f <= HighestHz)
                {
                    yield return f;
                }
            }
        }
    }

    private static double GainDb(ReadOnlySpan<StateVariableCoefficients> sections, double frequencyHz, double sampleRate)
    {
        Complex product = 1;
        foreach (StateVariableCoefficients section in sections)
        {
            product *= section.Response(2 * Math.PI * frequencyHz / sampleRate);
        }

        return Decibels.FromAmplitude(Complex.Abs(product));
    }
}
