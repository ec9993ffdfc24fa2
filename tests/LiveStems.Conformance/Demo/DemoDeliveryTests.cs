using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using LiveStems.App;
using Xunit;

namespace LiveStems.Conformance.Demo;

/// <summary>A delivery of the demo album, read by other people's programs.</summary>
public sealed partial class DemoDeliveryTests(DemoAlbumFixture demo) : IClassFixture<DemoAlbumFixture>
{
    [Fact]
    public void DeliveredFilesSayTheSameToOtherPrograms()
    {
        string root = Path.Combine(demo.Folder, "Deliveries");
        string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(demo.Folder, "cache"));
        try
        {
            StringWriter output = new();
            StringWriter errors = new();
            int exitCode = Program.Run(
                ["render", demo.Folder, "--out", root, "--song", "2", "--format", "archive", "disc", "compact", "--alternate", "instrumental", "--date", "2026-03-01", "--json"],
                output, errors, CancellationToken.None);
            Assert.True(exitCode == 0, errors.ToString());
            JsonNode manifest = JsonNode.Parse(output.ToString())!;
            string folder = Path.Combine(root, "Delivery 1");
            Assert.Equal(4, manifest["files"]!.AsArray().Count);
            foreach (JsonNode? file in manifest["files"]!.AsArray())
            {
                FfmpegAgrees(Path.Combine(folder, (string)file!["file"]!), file);
            }

            Prerequisite.Run("sh", "-c", $"cd \"{folder}\" && sha256sum --check --strict SHA256SUMS");
            string archive = Path.Combine(folder, "archive", "02 Rope and Rain.wav");
            BroadcastFieldsAgree(archive);
        }
        finally
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
        }
    }

    private static void FfmpegAgrees(string path, JsonNode file)
    {
        string log = Prerequisite.Run("ffmpeg", "-nostdin", "-hide_banner", "-i", path, "-af", "ebur128=peak=true", "-f", "null", "-");
        double loudness = double.Parse(IntegratedLine().Matches(log)[^1].Groups[1].Value, CultureInfo.InvariantCulture);

        // ffmpeg tells tenths of a LU, after its own conversion to 48 kHz.
        Assert.Equal((double)file["integratedLufs"]!, loudness, 0.11);
        string facts = Prerequisite.Run("ffprobe", "-v", "error", "-show_entries", "stream=sample_rate,channels,duration_ts", "-of", "default=nw=1", path);
        Assert.Contains($"sample_rate={(int)file["sampleRateHz"]!}", facts, StringComparison.Ordinal);
        Assert.Contains("channels=2", facts, StringComparison.Ordinal);
        Assert.Contains($"duration_ts={(long)file["frames"]!}", facts, StringComparison.Ordinal);
    }

    private static void BroadcastFieldsAgree(string path)
    {
        string tags = Prerequisite.Run("ffprobe", "-v", "error", "-show_entries", "format_tags", "-of", "default=nw=1", path);
        Assert.Contains("TAG:title=Rope and Rain", tags, StringComparison.Ordinal);
        Assert.Contains("TAG:artist=The Kelp Ledger", tags, StringComparison.Ordinal);
        Assert.Contains("TAG:album=Slack Water Letters", tags, StringComparison.Ordinal);
        Assert.Contains("TAG:date=2026-03-01", tags, StringComparison.Ordinal);
        Assert.Contains("A=PCM,F=44100,W=24", tags, StringComparison.Ordinal);
        string info = Prerequisite.Run("sndfile-info", path);
        Assert.Contains("bext", info, StringComparison.Ordinal);
        Assert.DoesNotContain("Error", info, StringComparison.OrdinalIgnoreCase);
    }

    [GeneratedRegex(@"I:\s+(-?\d+\.\d+) LUFS")]
    private static partial Regex IntegratedLine();
}
