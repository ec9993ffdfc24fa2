using System.Globalization;
using System.Text.RegularExpressions;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Limiter;
using Xunit;

namespace LiveStems.Conformance.Dynamics;

/// <summary>The limiter's output as a true-peak meter outside sees it: ffmpeg's ebur128 filter (ITU-R BS.1770-5 Annex 2).</summary>
public partial class LimiterCeilingTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(0)]
    [InlineData(9)]
    [InlineData(24)]
    public void AnotherTruePeakMeterReadsNoMoreThanTheCeiling(double driveDb)
    {
        LimiterProcessor limiter = new();
        limiter.SetParameter(limiter.Description.IndexOf("inputGainDb"), driveDb);
        limiter.Prepare(new ProcessingFormat(SampleRate, SampleRate));
        Random random = new(1);
        float[] left = new float[4 * SampleRate];
        float[] right = new float[4 * SampleRate];
        double low = 0;
        for (int n = 0; n < 3 * SampleRate; n++)
        {
            double white = 2 * random.NextDouble() - 1;
            low += 0.05 * (white - low);
            left[n] = (float)(3 * low + 0.5 * white);
            right[n] = n % 4000 < 400 ? 0.9f * (n / 7 % 2 * 2 - 1) : (float)(2 * low);
        }

        for (int start = 0; start < left.Length; start += SampleRate)
        {
            limiter.Process(new StereoBlock(left.AsSpan(start, SampleRate), right.AsSpan(start, SampleRate)));
        }

        string file = Path.GetTempFileName();
        try
        {
            using (BinaryWriter writer = new(File.Create(file)))
            {
                for (int n = 0; n < left.Length; n++)
                {
                    writer.Write(left[n]);
                    writer.Write(right[n]);
                }
            }

            string report = Prerequisite.Run(
                "ffmpeg", "-hide_banner", "-f", "f32le", "-ar", "48000", "-ac", "2", "-i", file, "-af", "ebur128=peak=true", "-f", "null", "-");
            double peak = double.Parse(TruePeakLine().Match(report).Groups[1].Value, CultureInfo.InvariantCulture);

            // The report has one decimal; its meter (fourfold, soxr) reads up to 0.2 dB high on steep edges and 0.7 low.
            Assert.InRange(peak, -2.0, -1 + 0.1 + 0.05);
        }
        finally
        {
            File.Delete(file);
        }
    }

    [GeneratedRegex(@"True peak:\s+Peak:\s+(-?[\d.]+) dBFS")]
    private static partial Regex TruePeakLine();
}
