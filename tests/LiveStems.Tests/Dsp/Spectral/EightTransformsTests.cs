using LiveStems.Dsp.Simd;
using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Dsp.Spectral;

public class EightTransformsTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(16)]
    [InlineData(32)]
    [InlineData(35)]
    [InlineData(64)]
    [InlineData(147)]
    [InlineData(160)]
    [InlineData(441)]
    [InlineData(960)]
    [InlineData(1024)]
    [InlineData(2205)]
    public void EachSignalHasTheSpectrumOfThePlainSum(int size)
    {
        Random random = new(size);
        (AlignedMemory<double> work, AlignedMemory<double> spare) = Memory(size);
        for (int i = 0; i < work.Count; i++)
        {
            work.Span[i] = random.NextDouble() * 2 - 1;
        }

        double[] input = work.Span.ToArray();
        ReadOnlySpan<double> output = new EightTransforms(size).Transform(work, spare).Span;

        // Each pass rounds by about 2⁻⁵³ of the root of the size, as does the plain sum; a factor of 16 for the worst of all bins.
        double tolerance = 16 * Math.Pow(2, -53) * Math.Sqrt(size) * (1 + Math.Log2(size));
        for (int bin = 0; bin < size; bin += Math.Max(1, size / 64))
        {
            for (int signal = 0; signal < EightComplex.Signals; signal++)
            {
                (double re, double im) = PlainSum(input, signal, bin, size);
                Assert.Equal(re, output[bin * EightComplex.Doubles + signal], tolerance);
                Assert.Equal(im, output[bin * EightComplex.Doubles + EightComplex.Signals + signal], tolerance);
            }
        }
    }

    [Fact]
    public void SilenceBesideSoundStaysSilence()
    {
        const int size = 3 * 5 * 7 * 8 * 4 * 2;
        (AlignedMemory<double> work, AlignedMemory<double> spare) = Memory(size);
        Random random = new(1);
        for (int n = 0; n < size; n++)
        {
            work.Span[n * EightComplex.Doubles + 3] = random.NextDouble();
        }

        ReadOnlySpan<double> output = new EightTransforms(size).Transform(work, spare).Span;
        for (int i = 0; i < output.Length; i++)
        {
            Assert.True(i % EightComplex.Signals == 3 || output[i] == 0);
        }
    }

    [Theory]
    [InlineData(11)]
    [InlineData(2 * 13)]
    [InlineData(47_999)]
    public void OtherPrimesAreRefused(int size)
    {
        Assert.Null(EightTransforms.Factors(size));
        Assert.Throws<ArgumentOutOfRangeException>(() => new EightTransforms(size));
    }

    private static (AlignedMemory<double> Work, AlignedMemory<double> Spare) Memory(int size) =>
        (new AlignedMemory<double>(size * EightComplex.Doubles), new AlignedMemory<double>(size * EightComplex.Doubles));

    private static (double Re, double Im) PlainSum(double[] input, int signal, int bin, int size)
    {
        (double re, double im) = (0, 0);
        for (int n = 0; n < size; n++)
        {
            (double sine, double cosine) = TwiddleTables.Turn(-(long)n * bin, size);
            double real = input[n * EightComplex.Doubles + signal];
            double imaginary = input[n * EightComplex.Doubles + EightComplex.Signals + signal];
            re += real * cosine - imaginary * sine;
            im += real * sine + imaginary * cosine;
        }

        return (re, im);
    }
}
