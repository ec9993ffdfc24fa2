using System.Globalization;
using System.Text.RegularExpressions;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Measuring;
using LiveStems.Conformance.Loudness;
using LiveStems.Dsp.Loudness;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;
using Xunit;

namespace LiveStems.Conformance.Demo;

/// <summary>The main job from end to end, measured by other people's meters.</summary>
public partial class DemoAlbumTests(DemoAlbumFixture demo) : IClassFixture<DemoAlbumFixture>
{
    private const double TargetLufs = -13;
    private const double CeilingDbtp = -1;

    [Fact]
    public void MastersMeetTheirTargetByFfmpegAndNeverPassTheirCeiling()
    {
        Assert.Equal(3, demo.Masters.Count);
        foreach (string master in demo.Masters)
        {
            string log = Prerequisite.Run("ffmpeg", "-nostdin", "-hide_banner", "-i", master, "-af", "ebur128=peak=true", "-f", "null", "-");
            double loudness = double.Parse(IntegratedLine().Matches(log)[^1].Groups[1].Value, CultureInfo.InvariantCulture);
            double peak = double.Parse(PeakLine().Matches(log)[^1].Groups[1].Value, CultureInfo.InvariantCulture);
            Assert.Equal(TargetLufs, loudness, 0.1001);
            Assert.True(peak <= CeilingDbtp, $"{master} reaches {peak} dBTP");
        }
    }

    [Fact]
    public void MastersMeetTheirTargetByLibEbur128()
    {
        foreach (string master in demo.Masters)
        {
            using IAudioReader reader = AudioFile.Open(master);
            using LibEbur128 peer = new(reader.Info.SampleRate);
            Feed(reader, peer.Add);
            Assert.Equal(TargetLufs, peer.IntegratedLufs, 0.1);
            Assert.True(peer.TruePeakDbtp <= CeilingDbtp, $"{master} reaches {peer.TruePeakDbtp} dBTP");
        }
    }

    [Fact]
    public void MastersStayBelowTheirCeilingBySixteenfoldOversampling()
    {
        foreach (string master in demo.Masters)
        {
            using IAudioReader reader = AudioFile.Open(master);
            PrecisePeakMeter meter = new();
            Feed(reader, meter.Add);
            meter.Finish();
            Assert.True(meter.TruePeakDbtp <= CeilingDbtp, $"{master} reaches {meter.TruePeakDbtp} dBTP");
        }
    }

    [Fact]
    public void EveryStemMeasuresAsLibEbur128DoesToTheStatedFigures()
    {
        Assert.True(demo.Stems.Count >= 27);
        foreach (string stem in demo.Stems)
        {
            FileMeasurement ours = FileMeasurement.Measure(stem, null, CancellationToken.None);
            if (ours.Info.SampleRate != 48_000)
            {
                continue;
            }

            using IAudioReader reader = AudioFile.Open(stem);
            using LibEbur128 peer = new(reader.Info.SampleRate);
            bool isMono = reader.Info.Channels == 1;
            Feed(reader, (left, right) => peer.Add(left, isMono ? new float[left.Length] : right));
            Assert.Equal(peer.IntegratedLufs, ours.Loudness.IntegratedLufs, 0.02);
            Assert.True(
                Math.Abs(peer.TruePeakDbtp - ours.Loudness.TruePeakDbtp) <= 0.1,
                $"{stem}: {ours.Loudness.TruePeakDbtp} dBTP, libebur128 {peer.TruePeakDbtp} dBTP");
        }
    }

    [Fact]
    public void AlbumIsValidAndTheOutputNamesEveryMasterAndCorrection()
    {
        Album album = AlbumFile.Load(demo.Folder, BuiltInProcessors.Catalogue);
        Assert.Empty(AlbumRules.MissingFiles(album, demo.Folder));
        Assert.All(album.Songs, song => Assert.InRange(song.Stems.Length, 8, 10));
        Assert.All(album.Songs, song => Assert.Contains(song.Title, demo.Output, StringComparison.Ordinal));
        Assert.All(
            album.Songs.SelectMany(song => song.Stems).SelectMany(stem => stem.Chain.Slots),
            slot => Assert.Contains(slot.Reason, demo.Output, StringComparison.Ordinal));
    }

    private delegate void Taker(ReadOnlySpan<float> left, ReadOnlySpan<float> right);

    private static void Feed(IAudioReader reader, Taker take)
    {
        float[] left = new float[16_384];
        float[] right = new float[16_384];
        int frames;
        while ((frames = reader.Read(left, right)) > 0)
        {
            take(left.AsSpan(0, frames), right.AsSpan(0, frames));
        }
    }

    [GeneratedRegex(@"I:\s+(-?[\d.]+) LUFS")]
    private static partial Regex IntegratedLine();

    [GeneratedRegex(@"Peak:\s+(-?[\d.]+) dBFS")]
    private static partial Regex PeakLine();
}
