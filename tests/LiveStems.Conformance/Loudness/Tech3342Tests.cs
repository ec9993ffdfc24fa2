using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Loudness;

/// <summary>
/// EBU Tech 3342 (V4, November 2023) Table 1, minimum requirements, signals 1 to 4: stretches of 20 s of a 1 kHz tone;
/// tolerance ±1 LU from the same table.
/// </summary>
public class Tech3342Tests
{
    private const double Tolerance = 1;

    [Theory]
    [InlineData(1, 10, new double[] { -20, -30 })]
    [InlineData(2, 5, new double[] { -20, -15 })]
    [InlineData(3, 20, new double[] { -40, -20 })]
    [InlineData(4, 15, new double[] { -50, -35, -20, -35, -50 })]
    public void LoudnessRangeIsThatOfTheTable(int number, double expected, double[] levels)
    {
        Assert.InRange(number, 1, 4);
        foreach (int sampleRate in (int[])[44_100, 48_000, 96_000, 192_000])
        {
            Assert.Equal(expected, RangeOf(sampleRate, levels), Tolerance);
        }
    }

    [Fact]
    public void RepeatingAProgrammeDoesNotChangeItsRange()
    {
        // Tech 3342 section 5 says so of every signal in the table.
        double[] levels = [-50, -35, -20, -35, -50];
        Assert.Equal(15, RangeOf(48_000, [.. levels, .. levels]), Tolerance);
    }

    private static double RangeOf(int sampleRate, double[] levels)
    {
        ToneProgramme programme = new(sampleRate);
        foreach (double level in levels)
        {
            programme.Tone(level, 20);
        }

        float[] samples = programme.Samples;
        ProgrammeMeter meter = new(sampleRate);
        meter.Add(samples, samples);
        return meter.Finish().LoudnessRangeLu;
    }
}
