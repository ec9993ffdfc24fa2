using LiveStems.Dsp.Resampling;
using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

/// <summary>The filter itself, from its taps: frequencies are fractions of the Nyquist frequency of the lower rate.</summary>
public class ResamplingFilterTests
{
    [Fact]
    public void LengthIsWhatKaisersFormulaAsksForFromTheBandEdgesOfTheDesign()
    {
        // REFERENCES section 10: N − 1 = (A − 7.95)/(2.285 Δω), here with the transition of 150 dB from 0.89694 to 1.
        Assert.Equal(192, (150 - 7.95) / (2.285 * Math.PI * (1 - 0.89694)), 0.01);
        Assert.Equal(96, new ResamplingPrototype(new ResamplingRatio(44_100, 48_000)).HalfWidth);
        Assert.Equal(192, new ResamplingPrototype(new ResamplingRatio(96_000, 48_000)).HalfWidth);
    }

    [Theory]
    [InlineData(44_100, 48_000)]
    [InlineData(48_000, 44_100)]
    [InlineData(96_000, 48_000)]
    [InlineData(192_000, 44_100)]
    public void StoredTapsHoldTheStopBandAndThePassBand(int fromRate, int toRate)
    {
        ResamplingRatio ratio = new(fromRate, toRate);
        FilterRows rows = FilterRows.For(ratio);
        Assert.IsType<StoredRows>(rows);

        // The design's deviation, 150 dB, and the rounding of the taps, which is 2⁻²⁵ of each at random.
        double highest = Math.Min(4, ratio.Up * ratio.Stretch);
        for (double fraction = 1; fraction <= highest; fraction += 0.0371)
        {
            Assert.True(GainDb(ratio, rows, fraction) < -145, $"at {fraction}: {GainDb(ratio, rows, fraction)}");
        }

        for (double fraction = 0; fraction < 0.9; fraction += 0.0371)
        {
            Assert.Equal(0, GainDb(ratio, rows, fraction), 1e-5);
        }

        Assert.InRange(GainDb(ratio, rows, 0.907), -0.0025, 0);
        Assert.InRange(GainDb(ratio, rows, 0.91), -0.01, 0);
    }

    [Theory]
    [InlineData(44_100, 48_000)]
    [InlineData(48_000, 44_100)]
    public void PhasesMirrorEachOtherSoThatPhaseIsLinear(int fromRate, int toRate)
    {
        ResamplingRatio ratio = new(fromRate, toRate);
        Dictionary<long, double> taps = Taps(ratio, FilterRows.For(ratio)).ToDictionary(tap => tap.Time, tap => tap.Value);

        // Mirrored taps differ by the rounding of their times alone, 1e-16 of about 100, times the slope, at most π.
        Assert.All(taps, tap => Assert.Equal(tap.Value, taps.GetValueOrDefault(-tap.Key), 1e-7));
    }

    [Theory]
    [InlineData(44_101, 48_000)]
    [InlineData(48_000, 44_101)]
    [InlineData(384_000, 8_001)]
    public void InterpolatedTapsAreThePrototypesWithinTheRoundingOfTheTails(int fromRate, int toRate)
    {
        ResamplingRatio ratio = new(fromRate, toRate);
        ResamplingPrototype prototype = new(ratio);
        FilterRows rows = FilterRows.For(ratio);
        Assert.IsType<InterpolatedRows>(rows);
        RowLayout layout = rows.Layout;
        for (int output = 0; output < ratio.Up; output += 997)
        {
            int phase = ratio.Locate(output).Phase;
            GroupOffsets offsets = rows.Select(output, phase);
            for (int tap = 0; tap < layout.Taps; tap++)
            {
                double expected = prototype.At((double)phase / ratio.Up + layout.HalfTaps - 1 - tap);
                int heartTap = tap - layout.HeartStart;
                bool inHeart = heartTap >= 0 && heartTap < layout.HeartTaps;

                // The cubics are right to 15.7/(24·128·64⁴) = 3.1e-10; the tails, below 1/(8π), round to 2⁻²⁵ of that twice.
                double actual = inHeart ? rows.Hearts[offsets.Hearts[0] + heartTap] : rows.Tails[offsets.Tails[0] + tap];
                Assert.Equal(expected, actual, inHeart ? 3.2e-10 : 3e-9);
            }
        }
    }

    [Fact]
    public void OutputFramesRoundUp()
    {
        StreamingResampler resampler = new(48_000, 44_100);
        Assert.Equal(0, resampler.OutputFrames(0));
        Assert.Equal(1, resampler.OutputFrames(1));
        Assert.Equal(147, resampler.OutputFrames(160));
        Assert.Equal(148, resampler.OutputFrames(161));
    }

    private static double GainDb(ResamplingRatio ratio, FilterRows rows, double fraction)
    {
        // Times are in 1/Up input frames; the lower Nyquist frequency is π/Stretch per input frame.
        double step = Math.PI * fraction / (ratio.Stretch * ratio.Up);
        double sum = Taps(ratio, rows).Sum(tap => tap.Value * Math.Cos(step * tap.Time));
        return 20 * Math.Log10(Math.Abs(sum) / ratio.Up);
    }

    private static IEnumerable<(long Time, double Value)> Taps(ResamplingRatio ratio, FilterRows rows)
    {
        RowLayout layout = rows.Layout;
        for (int output = 0; output < ratio.Up; output++)
        {
            int phase = ratio.Locate(output).Phase;
            int tail = layout.TailOffset(output, 0);
            int heart = layout.HeartOffset(output, 0) - layout.HeartStart;
            for (int tap = 0; tap < layout.Taps; tap++)
            {
                bool inHeart = tap >= layout.HeartStart && tap < layout.HeartStart + layout.HeartTaps;
                yield return (
                    phase + (long)ratio.Up * (layout.HalfTaps - 1 - tap),
                    inHeart ? rows.Hearts[heart + tap] : rows.Tails[tail + tap]);
            }
        }
    }
}
