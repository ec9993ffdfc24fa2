using System.Globalization;
using System.Runtime.InteropServices;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Conformance.Filters;

/// <summary>The designs of the Audio EQ Cookbook against the filters of SoX and ffmpeg that follow it too: impulse responses.</summary>
public class CookbookAgreementTests
{
    private const int SampleRate = 48_000;
    private const int Frames = 2000;
    private const float Impulse = 0.25f;

    private static readonly Dictionary<string, (BiquadCoefficients Ours, string Sox, string Ffmpeg)> Filters = new()
    {
        ["low-pass"] = (BiquadDesign.LowPass(1000, 0.9, SampleRate), "lowpass -2 1000 0.9q", "lowpass=f=1000:t=q:w=0.9"),
        ["high-pass"] = (BiquadDesign.HighPass(300, 0.7, SampleRate), "highpass -2 300 0.7q", "highpass=f=300:t=q:w=0.7"),
        ["band-pass"] = (BiquadDesign.BandPass(2000, 2, SampleRate), "bandpass 2000 2q", "bandpass=f=2000:t=q:w=2"),
        ["band-pass of constant skirts"] = (BiquadDesign.BandPassConstantSkirt(2000, 2, SampleRate), "bandpass -c 2000 2q", "bandpass=f=2000:t=q:w=2:csg=1"),
        ["notch"] = (BiquadDesign.Notch(5000, 3, SampleRate), "bandreject 5000 3q", "bandreject=f=5000:t=q:w=3"),
        ["all-pass"] = (BiquadDesign.AllPass(800, 0.7, SampleRate), "allpass 800 0.7q", "allpass=f=800:t=q:w=0.7"),
        ["bell"] = (BiquadDesign.Bell(3000, 1.4, -6, SampleRate), "equalizer 3000 1.4q -6", "equalizer=f=3000:t=q:w=1.4:g=-6"),
        ["low shelf"] = (BiquadDesign.LowShelf(200, 0.7, 4, SampleRate), "bass 4 200 0.7q", string.Empty),
        ["high shelf"] = (BiquadDesign.HighShelf(6000, 0.7, -5, SampleRate), "treble -5 6000 0.7q", string.Empty),
    };

    public static TheoryData<string> Names => [.. Filters.Keys];

    // Not the shelves: ffmpeg's do not follow the cookbook's quality (at 200 Hz, 0.7 and +4 dB its first sample is 0.1 % lower).
    public static TheoryData<string> NamesOfFfmpeg => [.. Filters.Keys.Where(name => Filters[name].Ffmpeg.Length > 0)];

    // SoX rounds to 2⁻³¹ at every output, and the filter feeds that back: some ten steps.
    [Theory]
    [MemberData(nameof(Names))]
    public void FilterIsThatOfSox(string name)
    {
        (BiquadCoefficients ours, string sox, _) = Filters[name];
        byte[] output = Through(
            MemoryMarshal.AsBytes<float>(Samples()),
            (source, target) => Prerequisite.Run("sox", ["-D", "-t", "f32", "-r", $"{SampleRate}", "-c", "1", source, "-t", "s32", target, .. sox.Split(' ')]));
        double[] expected = [.. MemoryMarshal.Cast<byte, int>(output).ToArray().Select(sample => sample / 2_147_483_648.0)];
        AssertIs(expected, ours, 16 * Math.Pow(2, -31));
    }

    // ffmpeg computes in double here; both write the same recursion in another order.
    [Theory]
    [MemberData(nameof(NamesOfFfmpeg))]
    public void FilterIsThatOfFfmpeg(string name)
    {
        (BiquadCoefficients ours, _, string ffmpeg) = Filters[name];
        double[] samples = [.. Samples().Select(sample => (double)sample)];
        byte[] output = Through(
            MemoryMarshal.AsBytes<double>(samples),
            (source, target) => Prerequisite.Run(
                "ffmpeg", "-nostdin", "-hide_banner", "-loglevel", "error", "-y", "-f", "f64le", "-ar", $"{SampleRate}", "-ac", "1", "-i", source,
                "-af", ffmpeg + ":r=f64", "-f", "f64le", target));
        AssertIs(MemoryMarshal.Cast<byte, double>(output).ToArray(), ours, 1e-10);
    }

    private static float[] Samples()
    {
        float[] samples = new float[Frames];
        samples[0] = Impulse;
        return samples;
    }

    private static void AssertIs(double[] expected, BiquadCoefficients c, double tolerance)
    {
        Assert.InRange(expected.Length, Frames, Frames + 10);
        (double x1, double x2, double y1, double y2) = (0, 0, 0, 0);
        for (int n = 0; n < Frames; n++)
        {
            double x = n == 0 ? Impulse : 0;
            double y = c.B0 * x + c.B1 * x1 + c.B2 * x2 - c.A1 * y1 - c.A2 * y2;
            (x1, x2, y1, y2) = (x, x1, y, y1);
            Assert.True(Math.Abs(y - expected[n]) <= tolerance, string.Create(CultureInfo.InvariantCulture, $"sample {n}: {y}, expected {expected[n]}"));
        }
    }

    private static byte[] Through(ReadOnlySpan<byte> sound, Action<string, string> filter)
    {
        string source = Path.GetTempFileName();
        string target = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(source, sound);
            filter(source, target);
            return File.ReadAllBytes(target);
        }
        finally
        {
            File.Delete(source);
            File.Delete(target);
        }
    }
}
