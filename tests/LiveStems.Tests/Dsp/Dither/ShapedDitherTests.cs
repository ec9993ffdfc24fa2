using LiveStems.Dsp.Dither;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Dither;

public class ShapedDitherTests
{
    private const int Frames = 1 << 17;
    private const int Size = 4096;

    // F-weighted design of Wannamaker 1992 (from memory).
    private static readonly double[] Taps = [2.412, -3.370, 3.937, -4.174, 3.353, -2.205, 1.281, -0.569, 0.0847];

    [Fact]
    public void NoisePowerIsThatOfWhiteErrorThroughItsFilter()
    {
        // Triangular dither makes the error white with q²/4 (Lipshitz, Wannamaker, Vanderkooy 1992); the loop filters it by 1 − Σ c z⁻ᵏ.
        float[] error = Error();
        double step = Math.ScaleB(1, -15);
        double expected = step * step / 4 * (1 + Taps.Sum(tap => tap * tap));
        double power = error.Average(each => (double)each * each);
        Assert.Equal(1, power / expected, 0.02);
    }

    [Fact]
    public void SpectrumFollowsTheFilterOfItsLoop()
    {
        double[] power = AveragedSpectrum.Of(Error(), Size, _ => true);
        double[] plain = AveragedSpectrum.Of(PlainError(), Size, _ => true);
        foreach (double frequency in (double[])[1000, 3000, 4000, 8000, 12_000, 18_000])
        {
            int bin = (int)(frequency / 44_100 * Size);
            double w = 2 * Math.PI * bin / Size;
            double real = 1 - Taps.Select((tap, k) => tap * Math.Cos((k + 1) * w)).Sum();
            double imaginary = Taps.Select((tap, k) => tap * Math.Sin((k + 1) * w)).Sum();
            double expectedDb = 10 * Math.Log10(real * real + imaginary * imaginary);
            double measuredDb = 10 * Math.Log10(AveragedSpectrum.Mean(power, bin, 8) / AveragedSpectrum.Mean(plain, bin, 8));
            Assert.Equal(expectedDb, measuredDb, 1.2);
        }
    }

    [Fact]
    public void WhereTheEarIsKeenestItIsFarQuieterThanPlainDither()
    {
        double[] power = AveragedSpectrum.Of(Error(), Size, _ => true);
        double[] plain = AveragedSpectrum.Of(PlainError(), Size, _ => true);
        int bin = (int)(3500.0 / 44_100 * Size);
        Assert.True(10 * Math.Log10(AveragedSpectrum.Mean(power, bin, 40) / AveragedSpectrum.Mean(plain, bin, 40)) < -12);
    }

    [Fact]
    public void BlocksDoNotMatterAndResetStartsAgain()
    {
        float[] whole = Tone();
        ShapedDither dither = new(16, 5);
        dither.Process(whole, new float[Frames]);
        float[] pieces = Tone();
        dither.Reset();
        for (int done = 0, length = 1; done < Frames; done += length, length = Math.Min(Frames - done, 1 + done % 97))
        {
            dither.Process(pieces.AsSpan(done, length), new float[length]);
        }

        Assert.Equal(whole, pieces);
    }

    private static float[] Tone() => [.. Enumerable.Range(0, Frames).Select(i => 0.1f * (float)Math.Sin(2 * Math.PI * 441.3 * i / 44_100))];

    private static float[] Error()
    {
        float[] sound = Tone();
        new ShapedDither(16, 5).Process(sound, new float[Frames]);
        return [.. sound.Zip(Tone(), (dithered, clean) => dithered - clean)];
    }

    private static float[] PlainError()
    {
        float[] sound = Tone();
        new TriangularDither(16, 5).Process(sound, new float[Frames]);
        return [.. sound.Zip(Tone(), (dithered, clean) => dithered - clean)];
    }
}
