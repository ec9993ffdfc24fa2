using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.RegularExpressions;
using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Loudness;

/// <summary>Our file meter beside ffmpeg's ebur128 filter (5.1) on the same samples.</summary>
public class FfmpegAgreementTests
{
    public static TheoryData<string> Programmes => [.. ReferenceProgrammes.Names];

    [Theory]
    [MemberData(nameof(Programmes))]
    public void EveryFigureAgrees(string programme)
    {
        const int SampleRate = 48_000;
        (float[] left, float[] right) = ReferenceProgrammes.Make(programme, SampleRate);
        string log = Measure(SampleRate, left, right);
        LoudnessMeter loudness = new(SampleRate);
        loudness.Add(left, right);
        TruePeakMeter peak = new();
        peak.Add(left, right);
        peak.Finish();

        // ffmpeg sorts into bins of 0.01 LU, takes their lower edges and prints three decimals; a bin at the gate may fall
        // otherwise. Its percentile is element round(p n), one off Tech 3342's (from memory): one among some 300 values
        // over a range of 12 LU is 0.04 LU, at either end, besides the two edges.
        Assert.Equal(Last(log, "I"), loudness.IntegratedLufs, 0.02);
        Assert.Equal(Last(log, "LRA"), loudness.LoudnessRangeLu, 0.1);
        Assert.Equal(Last(log, "M"), loudness.MomentaryLufs, 0.001);
        Assert.Equal(Last(log, "S"), loudness.ShortTermLufs, 0.001);
        Assert.Equal(20 * Math.Log10(Last(log, "true_peak")), peak.TruePeakDbtp, 0.1);
    }

    private static string Measure(int sampleRate, float[] left, float[] right)
    {
        float[] interleaved = new float[2 * left.Length];
        for (int n = 0; n < left.Length; n++)
        {
            interleaved[2 * n] = left[n];
            interleaved[2 * n + 1] = right[n];
        }

        string file = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(file, MemoryMarshal.AsBytes<float>(interleaved).ToArray());
            return Prerequisite.Run(
                "ffmpeg", "-nostdin", "-hide_banner", "-nostats", "-v", "error",
                "-f", "f32le", "-ar", $"{sampleRate}", "-ac", "2", "-i", file,
                "-af", "ebur128=metadata=1:peak=true:framelog=verbose,ametadata=print:file=-", "-f", "null", "-");
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static double Last(string log, string key)
    {
        MatchCollection matches = Regex.Matches(log, $@"lavfi\.r128\.{key}=(\S+)");
        Assert.NotEmpty(matches);
        return double.Parse(matches[^1].Groups[1].Value, CultureInfo.InvariantCulture);
    }
}
