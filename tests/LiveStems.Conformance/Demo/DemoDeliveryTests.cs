using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using LiveStems.App;
using LiveStems.Conformance.Loudness;
using Xunit;

namespace LiveStems.Conformance.Demo;

/// <summary>A delivery of the demo album, read by other people's programs.</summary>
public sealed partial class DemoDeliveryTests(DemoAlbumFixture demo) : IClassFixture<DemoAlbumFixture>
{
    [Fact]
    public void DeliveredFilesSayTheSameToOtherPrograms()
    {
        string root = Path.Combine(demo.Folder, "Deliveries");
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
            LibEbur128Agrees(Path.Combine(folder, (string)file!["file"]!), file);
        }

        Prerequisite.Run("sh", "-c", $"cd \"{folder}\" && sha256sum --check --strict SHA256SUMS");
        string archive = Path.Combine(folder, "archive", "02 Rope and Rain.wav");
        BroadcastFieldsAgree(archive);
    }

    [Fact]
    public void CueSheetOfTheContinuousAlbumPointsWherePythonFindsTheSongs()
    {
        // IEC 60908: 75 frames a second; read with Python's own wave module, which knows nothing of us. A pause is silence of
        // whole frames, dither aside, and behind its end there is a song.
        string root = Path.Combine(demo.Folder, "Continuous");
        Render("render", demo.Folder, "--out", root, "--format", "disc", "--continuous", "--date", "2026-03-01");
        string folder = Path.Combine(root, "Delivery 1", "continuous");
        double[] found = Scipy.Numbers($$"""
            import wave, re, glob
            folder = '{{folder}}'
            sheet = open(glob.glob(folder + '/*.cue')[0], encoding='utf-8', newline='').read()
            sound = wave.open(folder + '/' + re.search('FILE "(.*)" WAVE', sheet).group(1))
            x = np.frombuffer(sound.readframes(sound.getnframes()), dtype='<i2').reshape(-1, 2)
            at = lambda words: (int(words[0]) * 60 + int(words[1])) * 75 + int(words[2])
            marks = [at(m) for m in re.findall(r'INDEX 01 (\d\d):(\d\d):(\d\d)', sheet)]
            pauses = [at(m) for m in re.findall(r'INDEX 00 (\d\d):(\d\d):(\d\d)', sheet)]
            print(sound.getframerate()); print(len(x) % 588); print(len(marks)); print(len(pauses))
            for pause, mark in zip(pauses, marks[1:]):
                print((mark - pause) / 75)
                print(np.abs(x[pause * 588:mark * 588].astype(int)).max())
                print(np.abs(x[mark * 588:mark * 588 + 44100 * 5].astype(int)).max())
            """);
        Assert.Equal([44_100, 0, 3, 2], found[..4]);
        for (int song = 0; song < 2; song++)
        {
            Assert.Equal(2, found[4 + 3 * song], 2.0 / 75);
            Assert.True(found[5 + 3 * song] <= 40, $"the pause holds {found[5 + 3 * song]} steps");
            Assert.True(found[6 + 3 * song] > 1000, $"behind the pause there are {found[6 + 3 * song]} steps");
        }
    }

    [Fact]
    public void NoLouderThanAPeakToLoudnessRatioIsWhatFfmpegMeasures()
    {
        string album = Path.Combine(demo.Folder, "..", "ratio");
        Prerequisite.Run("cp", "-r", demo.Folder, album);
        Render("set", album, "targets.integratedLufs=none", "targets.leastPeakToLoudnessLu=13.5 LU");
        Render("set", album, "--to-target", "--song", "2");
        Render("render", album, "--out", Path.Combine(album, "out"), "--song", "2", "--bits", "float");
        string log = Prerequisite.Run("ffmpeg", "-nostdin", "-hide_banner", "-i", Path.Combine(album, "out", "02 Rope and Rain.wav"), "-af", "ebur128=peak=true", "-f", "null", "-");
        double loudness = double.Parse(IntegratedLine().Matches(log)[^1].Groups[1].Value, CultureInfo.InvariantCulture);
        double peak = double.Parse(PeakLine().Matches(log)[^1].Groups[1].Value, CultureInfo.InvariantCulture);

        // Both are told in tenths; its four times oversampling reads up to a tenth low (BS.1770-5, attachment 1).
        Assert.Equal(13.5, peak - loudness, 0.2);
    }

    private static void Render(params string[] arguments)
    {
        StringWriter errors = new();
        Assert.True(Program.Run(arguments, new StringWriter(), errors, CancellationToken.None) == 0, errors.ToString());
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

    // Read by ffmpeg and measured by libebur128: nothing of ours takes part.
    private void LibEbur128Agrees(string path, JsonNode file)
    {
        string raw = Path.Combine(demo.Folder, "read.f32");
        Prerequisite.Run("ffmpeg", "-nostdin", "-v", "error", "-y", "-i", path, "-f", "f32le", raw);
        float[] samples = System.Runtime.InteropServices.MemoryMarshal.Cast<byte, float>(File.ReadAllBytes(raw)).ToArray();
        using LibEbur128 peer = new((int)file["sampleRateHz"]!);
        peer.Add([.. samples.Where((_, index) => index % 2 == 0)], [.. samples.Where((_, index) => index % 2 == 1)]);
        Assert.Equal((long)file["frames"]!, samples.Length / 2);

        // Both follow BS.1770-5; Tech 3341 allows a meter 0.1 LU, and true peaks by fourfold oversampling read up to 0.1 dB apart.
        Assert.Equal(peer.IntegratedLufs, (double)file["integratedLufs"]!, 0.1);
        Assert.Equal(peer.TruePeakDbtp, (double)file["truePeakDbtp"]!, 0.1);
    }

    private static void BroadcastFieldsAgree(string path)
    {
        string tags = Prerequisite.Run("ffprobe", "-v", "error", "-show_entries", "format_tags", "-of", "default=nw=1", path);
        Assert.Contains("TAG:title=Rope and Rain", tags, StringComparison.Ordinal);
        Assert.Contains("TAG:artist=The Kelp Ledger", tags, StringComparison.Ordinal);
        Assert.Contains("TAG:album=Slack Water Letters", tags, StringComparison.Ordinal);
        Assert.Contains("TAG:date=2026-03-01", tags, StringComparison.Ordinal);
        Assert.Contains("A=PCM,F=44100,W=24", tags, StringComparison.Ordinal);
        Assert.Contains("TAG:encoded_by=LiveStems", tags, StringComparison.Ordinal);
        Assert.Matches("TAG:originator_reference=02-[0-9a-f]{24}", tags);
        string info = Prerequisite.Run("sndfile-info", path);
        Assert.Contains("bext", info, StringComparison.Ordinal);
        Assert.DoesNotContain("Error", info, StringComparison.OrdinalIgnoreCase);
    }

    [GeneratedRegex(@"Peak:\s+(-?\d+\.\d+) dBFS")]
    private static partial Regex PeakLine();

    [GeneratedRegex(@"I:\s+(-?\d+\.\d+) LUFS")]
    private static partial Regex IntegratedLine();
}
