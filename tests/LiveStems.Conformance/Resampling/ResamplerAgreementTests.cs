using System.Runtime.InteropServices;
using LiveStems.Dsp.Resampling;
using Xunit;

namespace LiveStems.Conformance.Resampling;

/// <summary>Sample for sample against libsoxr and SoX: level, phase and time of everything in the band, at once.</summary>
public class ResamplerAgreementTests
{
    public static TheoryData<int, int> Pairs => new()
    {
        { 48_000, 44_100 }, { 44_100, 48_000 }, { 96_000, 44_100 }, { 44_100, 96_000 }, { 88_200, 48_000 },
        { 192_000, 44_100 }, { 96_000, 48_000 }, { 44_101, 48_000 }, { 48_000, 44_101 }, { 32_000, 44_100 },
        { 352_800, 48_000 }, { 8_000, 88_200 }, { 44_100, 47_999 },
    };

    // Both sides are flat within 1e-8 up to 0.88 of the lower Nyquist frequency (libsoxr without roll-off: residual
    // −180 dB against exact tones up to 0.9, measured), so what remains is the rounding of a float output, −152 dB of a
    // signal near full scale and some 10 dB more of this material, whose root mean square lies near −17 dB.
    [Theory]
    [MemberData(nameof(Pairs))]
    public void OutputIsThatOfLibSoxrAtVeryHighQuality(int fromRate, int toRate)
    {
        float[] input = BandLimitedMaterial.Make(fromRate, toRate, 0.88, fromRate / 4);
        double[] reference = LibSoxr.Resample(fromRate, toRate, input);
        float[] output = Resample(fromRate, toRate, input);
        Assert.InRange(reference.Length, output.Length - 1, output.Length);
        double residualDb = BandLimitedMaterial.ResidualDb(reference, output);
        Assert.True(residualDb < -140, $"{residualDb} dB");
    }

    // rate -v rolls off by 0.01 dB in its upper half, and SoX computes in 32-bit integers: material up to half the band,
    // and the steps of 2⁻³² add nothing to those of a float.
    [Theory]
    [InlineData(48_000, 44_100)]
    [InlineData(44_100, 96_000)]
    [InlineData(96_000, 44_100)]
    public void OutputIsThatOfSoxAtVeryHighQuality(int fromRate, int toRate)
    {
        float[] input = BandLimitedMaterial.Make(fromRate, toRate, 0.5, fromRate / 4);
        string source = Path.GetTempFileName();
        string target = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(source, MemoryMarshal.AsBytes(input.AsSpan()));
            Prerequisite.Run(
                "sox", "-D", "-t", "f32", "-r", $"{fromRate}", "-c", "1", source, "-t", "f32", target, "rate", "-v", $"{toRate}");
            double[] reference = [.. MemoryMarshal.Cast<byte, float>(File.ReadAllBytes(target)).ToArray().Select(sample => (double)sample)];
            float[] output = Resample(fromRate, toRate, input);
            Assert.InRange(reference.Length, output.Length - 1, output.Length);
            double residualDb = BandLimitedMaterial.ResidualDb(reference, output);
            Assert.True(residualDb < -135, $"{residualDb} dB");
        }
        finally
        {
            File.Delete(source);
            File.Delete(target);
        }
    }

    private static float[] Resample(int fromRate, int toRate, float[] input)
    {
        StreamingResampler resampler = new(fromRate, toRate);
        float[] output = new float[resampler.OutputFrames(input.Length)];
        resampler.Process(input, input, output, new float[output.Length], out _, out int produced);
        resampler.Finish();
        resampler.Process([], [], output.AsSpan(produced), new float[output.Length - produced], out _, out _);
        return output;
    }
}
