using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Engine.RealTime;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

public sealed class ContinuousAlbumTests : IDisposable
{
    private const int Frames = 2 * TestSong.SampleRate + 101;

    private readonly TestSong first = new();
    private readonly string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");

    public ContinuousAlbumTests() => Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(first.Folder, "cache"));

    public void Dispose()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
        first.Dispose();
    }

    // IEC 60908: 75 frames a second, 588 samples in each at 44.1 kHz.
    [Theory]
    [InlineData(44_100, 588)]
    [InlineData(48_000, 640)]
    [InlineData(96_000, 1280)]
    public void AFrameIsASeventyFifthOfASecond(int sampleRate, int samples)
    {
        Assert.True(DiscTime.Divides(sampleRate));
        Assert.Equal(samples, DiscTime.SamplesPerFrame(sampleRate));
        Assert.Equal((samples, 0L, 2L * samples), (DiscTime.Up(1, sampleRate), DiscTime.Down(samples - 1, sampleRate), DiscTime.Up(2 * samples, sampleRate)));
    }

    [Theory]
    [InlineData(0, "00:00:00")]
    [InlineData(588 * 74, "00:00:74")]
    [InlineData(44_100L * 60, "01:00:00")]
    [InlineData(44_100L * (59 * 60 + 59) + 588 * 74, "59:59:74")]
    [InlineData(44_100L * 60 * 120, "120:00:00")]
    public void PlacesAreMinutesSecondsAndFrames(long sample, string written) => Assert.Equal(written, DiscTime.Written(sample, 44_100));

    [Fact]
    public void BehindAGapASongStartsOnAFrame()
    {
        IReadOnlyList<PlacedSong> places = AlbumLayout.Place([("a", 1000, SongEdges.Usual), ("b", 5000, SongEdges.Usual)], 44_100);
        Assert.Equal(0, places[1].Start % 588);
        Assert.InRange(places[1].Start - 1000 - 88_200, 0, 587);
        Assert.Equal((588 * 2, places[1].Start), (places[1].Pause, places[1].Mark));
        Assert.Equal(0, AlbumLayout.Length(places, 44_100) % 588);
    }

    [Fact]
    public void SongsWithoutAGapJoinToTheSample()
    {
        SongEdges none = SongEdges.Usual with { GapBeforeSeconds = 0 };
        IReadOnlyList<PlacedSong> places = AlbumLayout.Place([("a", 1000, none), ("b", 5000, none)], 44_100);
        Assert.Equal((1000, 588L, null), (places[1].Start, places[1].Mark, places[1].Pause));
    }

    [Fact]
    public void ACrossFadeLongerThanASongIsRefused()
    {
        DeliveryException fault = Assert.Throws<DeliveryException>(() => AlbumLayout.Place([("a", 44_100, SongEdges.Usual with { CrossFadeSeconds = 2 }), ("b", 441_000, SongEdges.Usual)], 44_100));
        Assert.Contains("shorten it", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void FadesAcrossEachOtherKeepThePowerOfUnrelatedSounds()
    {
        for (double share = 0; share <= 1; share += 0.125)
        {
            double power = Math.Pow(FadeLaw.GainAt(FadeShape.EqualPower, share), 2) + Math.Pow(FadeLaw.GainAt(FadeShape.EqualPower, 1 - share), 2);
            Assert.Equal(1, power, 1e-12);
        }
    }

    [Fact]
    public void EveryShapeRisesFromSilenceToFull()
    {
        foreach (FadeShape shape in Enum.GetValues<FadeShape>())
        {
            double[] gains = [.. Enumerable.Range(0, 101).Select(place => FadeLaw.GainAt(shape, place / 100.0))];
            Assert.Equal((0, 1), (gains[0], Math.Round(gains[^1], 12)));
            Assert.Equal(gains.Order(), gains);
        }

        // Half-way down 60 dB in even steps.
        Assert.Equal(-30, 20 * Math.Log10(FadeLaw.GainAt(FadeShape.Decibels, 0.5)), 1e-9);
    }

    [Fact]
    public void TheAlbumIsItsMastersOneBehindTheOther()
    {
        Album album = TwoSongs(SongEdges.Usual with { GapBeforeSeconds = 1 });
        DeliveryReport report = Deliver(album);
        float[] one = Read(report, "float/01 One.wav");
        float[] two = Read(report, "float/02 Two.wav");
        float[] whole = Read(report, "continuous/Slack Water Letters.wav");
        long start = DiscTime.Up(one.Length + TestSong.SampleRate, TestSong.SampleRate);
        Assert.Equal(DiscTime.Up(start + two.Length, TestSong.SampleRate), whole.Length);
        Assert.Equal(one, whole[..one.Length]);
        Assert.All(whole[one.Length..(int)start], sample => Assert.Equal(0, sample));
        Assert.Equal(two, whole[(int)start..(int)(start + two.Length)]);
        string sheet = File.ReadAllText(Path.Combine(report.Folder, "continuous", "Slack Water Letters.cue"));
        Assert.Contains("PERFORMER \"The Kelp Ledger\"\r\nTITLE \"Slack Water Letters\"\r\nFILE \"Slack Water Letters.wav\" WAVE\r\n  TRACK 01 AUDIO\r\n    TITLE \"One\"", sheet, StringComparison.Ordinal);
        Assert.Contains($"    ISRC AA6Q72600002\r\n    INDEX 00 {DiscTime.Written(DiscTime.Up(one.Length, TestSong.SampleRate), TestSong.SampleRate)}\r\n    INDEX 01 {DiscTime.Written(start, TestSong.SampleRate)}\r\n", sheet, StringComparison.Ordinal);
        string[] sums = File.ReadAllLines(Path.Combine(report.Folder, "SHA256SUMS"));
        Assert.Contains(sums, line => line.EndsWith("continuous/Slack Water Letters.cue", StringComparison.Ordinal));
        Assert.Contains("ISRC AA6Q72600001", File.ReadAllText(Path.Combine(report.Folder, "float/01 One.wav"), System.Text.Encoding.Latin1), StringComparison.Ordinal);
    }

    [Fact]
    public void CutsAndFadesAreInTheMasterAndCrossFadesInTheWhole()
    {
        SongEdges edges = new(0, 0.25, 0.5, 0, FadeShape.Smooth, 0.5, FadeShape.Linear, 0.25);
        Album album = TwoSongs(SongEdges.Usual);
        float[] bare = Read(Deliver(album), "float/01 One.wav");
        album = album with { Songs = album.Songs.SetItem(0, album.Songs[0] with { Edges = edges }) };
        DeliveryReport report = Deliver(album);
        float[] one = Read(report, "float/01 One.wav");
        float[] two = Read(report, "float/02 Two.wav");
        float[] whole = Read(report, "continuous/Slack Water Letters.wav");
        int cut = TestSong.SampleRate / 4;
        Assert.Equal(bare.Length - 3 * cut, one.Length);
        Assert.Equal(bare[cut..(cut + 1000)], one[..1000]);
        int middle = one.Length - TestSong.SampleRate / 4;
        Assert.Equal(bare[cut + middle] * 0.5, one[middle], 1e-4);
        int start = one.Length - cut;
        Assert.Equal(DiscTime.Up(start + two.Length, TestSong.SampleRate), whole.Length);
        double half = Math.Sqrt(0.5);
        int at = start + cut / 2;
        Assert.Equal(one[at] * half + two[cut / 2] * half, whole[at], 1e-3);
        Assert.Equal(two[^500..], whole[(start + two.Length - 500)..(start + two.Length)]);
    }

    [Fact]
    public void CutsLongerThanTheSongAreRefused()
    {
        Album album = TwoSongs(SongEdges.Usual with { TrimEndSeconds = 30 });
        Assert.Contains("leave nothing", Assert.Throws<DeliveryException>(() => Deliver(album)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void DeliveriesAreNotedInTheAlbumAndFoundByNumber()
    {
        Album album = TwoSongs(SongEdges.Usual);
        Deliver(album);
        Deliver(album with { Title = "Slack Water" });
        IReadOnlyList<LoggedDelivery> log = DeliveryLog.List(first.Folder, BuiltInProcessors.Catalogue);
        Assert.Equal([1, 2], log.Select(delivery => delivery.Number));
        Assert.Equal("Slack Water", DeliveryLog.Find(log, 2, null).Album.Title);
        Assert.Contains("there is no delivery 3", Assert.Throws<DeliveryException>(() => DeliveryLog.Find(log, 3, null)).Message, StringComparison.Ordinal);
        Assert.Equal(3, ManifestReading.Of(log[0].Folder).Count);
    }

    private Album TwoSongs(SongEdges edges)
    {
        first.AddStem("one", Noise.White(Frames, 1, 0.1f), Noise.White(Frames, 2, 0.1f));
        first.AddStem("two", Noise.White(Frames, 3, 0.1f), Noise.White(Frames, 4, 0.1f));
        Chain bus = TestSong.Chain(TestSong.Slot("limiter", ("ceilingDbtp", -1)));
        Song song = first.Song with { Bus = bus, Edges = edges };
        return new Album(
            "Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1),
            [
                song with { Title = "One", Stems = [first.Song.Stems[0]], Isrc = "AA6Q72600001" },
                song with { Title = "Two", Stems = [first.Song.Stems[1]], Isrc = "AA6Q72600002" },
            ],
            []);
    }

    private DeliveryReport Deliver(Album album)
    {
        DeliveryOrder order = new([0, 1], [DeliveryFormat.Find("float")], [], false, false, new DateOnly(2026, 3, 1), "LiveStems") { HasContinuous = true };
        return DeliveryRun.Deliver(album, first.Folder, BuiltInProcessors.Catalogue, order, Path.Combine(first.Folder, "out"), 2, null, TestContext.Current.CancellationToken);
    }

    private static float[] Read(DeliveryReport report, string name)
    {
        using IAudioReader reader = AudioFile.Open(Path.Combine(report.Folder, name));
        float[] left = new float[reader.Info.Frames];
        float[] right = new float[reader.Info.Frames];
        for (int done = 0; done < left.Length;)
        {
            done += reader.Read(left.AsSpan(done), right.AsSpan(done));
        }

        return left;
    }
}
