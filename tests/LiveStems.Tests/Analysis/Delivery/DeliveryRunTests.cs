using System.Buffers.Binary;
using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Delivery;
using LiveStems.Dsp;
using LiveStems.Engine.Offline;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

public sealed class DeliveryRunTests : IDisposable
{
    private const int Frames = 4 * TestSong.SampleRate;

    private readonly TestSong song = new();
    private readonly string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");

    public DeliveryRunTests()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(song.Folder, "cache"));
        AddBand();
    }

    public void Dispose()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
        song.Dispose();
    }

    [Fact]
    public void MasterIsTheEnginesRenderToTheBit()
    {
        string plain = Path.Combine(song.Folder, "plain.wav");
        MasterRenderer.Render(song.Song, song.Folder, BuiltInProcessors.Catalogue, MasterFormat.Native, RenderOptions.Default, plain, null, CancellationToken.None);
        DeliveryReport report = Deliver(Order(["archive"]));
        (float[] left, float[] right) = Read(plain);
        (float[] deliveredLeft, float[] deliveredRight) = Read(Path.Combine(report.Folder, report.Files[0].Name));
        Assert.Equal(left, deliveredLeft);
        Assert.Equal(right, deliveredRight);
    }

    [Fact]
    public void LinkedInstrumentalAndVoicesSumToTheMaster()
    {
        // Every gain is the master's, so the parts add up to it: three whole-number files, each within 1.5 steps of 24 bits,
        // and single-precision sums around 2^-24.
        DeliveryReport report = Deliver(Order(["archive"]) with { Alternates = [Alternate.Parse("instrumental"), Alternate.Parse("a-cappella")], IsLinked = true });
        (float[] master, _) = Read(Named(report, DeliveredKind.Master));
        (float[] instrumental, _) = Read(Named(report, DeliveredKind.Alternate, "instrumental"));
        (float[] voices, _) = Read(Named(report, DeliveredKind.Alternate, "a-cappella"));
        Assert.Equal(master.Length, instrumental.Length);
        for (int i = 0; i < master.Length; i++)
        {
            Assert.Equal(master[i], instrumental[i] + voices[i], 8 * Math.ScaleB(1, -23));
        }
    }

    [Fact]
    public void FreeAlternatesKeepTheCeilingAndTheirStems()
    {
        DeliveryReport report = Deliver(Order(["archive"]) with { Alternates = [Alternate.Parse("television"), Alternate.Parse("vocal-up=2")] });
        Assert.All(report.Files, file => Assert.True(file.PreciseTruePeakDbtp <= -0.9));
        song.Song = song.Song with { Stems = [song.Song.Stems[0]], Notes = [] };
        (float[] left, _) = song.Render(catalogue: BuiltInProcessors.Catalogue);
        (float[] television, _) = Read(Named(report, DeliveredKind.Alternate, "television"));
        for (int i = 0; i < left.Length; i++)
        {
            Assert.Equal(left[i], television[i], 4 * Math.ScaleB(1, -23));
        }
    }

    [Fact]
    public void TreatedStemsSumToTheBusInput()
    {
        DeliveryReport report = Deliver(Order(["archive"]) with { HasTreatedStems = true });
        Assert.True(report.StemSumNullDbfs["Test"] < -120);
        float[][] stems = [.. report.Files.Where(file => file.Kind == DeliveredKind.TreatedStem).Select(file => Read(Path.Combine(report.Folder, file.Name)).Left)];
        song.Song = song.Song with { Bus = Chain.Empty };
        (float[] bus, _) = song.Render(catalogue: BuiltInProcessors.Catalogue);
        Assert.Equal(2, stems.Length);
        for (int i = 0; i < bus.Length; i++)
        {
            Assert.Equal(bus[i], stems.Sum(stem => i < stem.Length ? stem[i] : 0f), 1e-6);
        }
    }

    [Fact]
    public void AnotherDeliveryGetsAnotherNumberAndLeavesTheFirstAlone()
    {
        DeliveryReport first = Deliver(Order(["archive"]));
        byte[] before = File.ReadAllBytes(Named(first, DeliveredKind.Master));
        DeliveryReport second = Deliver(Order(["archive"]));
        Assert.Equal((1, 2), (first.Number, second.Number));
        Assert.Equal(before, File.ReadAllBytes(Named(first, DeliveredKind.Master)));
        Assert.Equal(before, File.ReadAllBytes(Named(second, DeliveredKind.Master)));
    }

    [Fact]
    public void OnlyTheSongThatChangedGetsOtherBytesOnAnotherDay()
    {
        Album before = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [song.Song, song.Song with { Title = "Other" }], []);
        Album after = before with { Songs = before.Songs.SetItem(1, before.Songs[1] with { Stems = before.Songs[1].Stems.SetItem(0, before.Songs[1].Stems[0] with { Placement = before.Songs[1].Stems[0].Placement with { GainDb = -1 } }) }) };
        DeliveryOrder order = Order(["archive"]) with { Songs = [0, 1], Alternates = [Alternate.Parse("instrumental")], HasTreatedStems = true };
        DeliveryReport first = Run(before, order);
        DeliveryReport second = Run(after, order with { Date = new DateOnly(2027, 4, 2) });
        DeliveryReport asked = Run(after, order with { Date = new DateOnly(2027, 4, 3), IsDateAsked = true });
        Assert.Equal(SumsOf(first, "Test"), SumsOf(second, "Test"));
        Assert.Empty(SumsOf(first, "Test").Intersect(SumsOf(asked, "Test")));
        Assert.NotEqual(SumsOf(first, "Other").First(), SumsOf(second, "Other").First());
        Assert.Contains("2027-04-02", Encoding.ASCII.GetString(File.ReadAllBytes(Path.Combine(second.Folder, second.Files.First(file => file.Song == "Other").Name))[..1000]), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.9)]
    public void InterruptedDeliveryGoesOnAndEndsWithTheSameBytes(double share)
    {
        DeliveryOrder order = Order(["archive", "disc", "float"]) with { Alternates = [Alternate.Parse("instrumental")], HasTreatedStems = true };
        DeliveryReport undisturbed = Deliver(order, "one");
        Directory.Delete(Path.Combine(song.Folder, "cache"), recursive: true);
        using CancellationTokenSource interruption = new();
        Stop stop = new(share, interruption);
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(order, "two", stop, interruption));
        string folder = Path.Combine(song.Folder, "two", "Delivery 1 (under way)");
        Assert.DoesNotContain(Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories), path => path.Contains("unchecked", StringComparison.Ordinal));
        Assert.False(File.Exists(Path.Combine(folder, "manifest.json")));

        DeliveryReport resumed = Deliver(order, "two");
        Assert.Equal(1, resumed.Number);
        Assert.Equal(Sums(undisturbed), Sums(resumed));
        Assert.Equal(File.ReadAllBytes(Path.Combine(undisturbed.Folder, "manifest.json")), File.ReadAllBytes(Path.Combine(resumed.Folder, "manifest.json")));
    }

    [Fact]
    public void BroadcastExtensionStandsWhereItsSpecificationPutsIt()
    {
        // EBU Tech 3285 version 2: offsets in the chunk's body; loudness in hundredths.
        DeliveryReport report = Deliver(Order(["archive"]) with { Originator = "Harbour Street Mastering", Date = new DateOnly(2026, 3, 1) });
        byte[] bytes = File.ReadAllBytes(Named(report, DeliveredKind.Master));
        int chunk = bytes.AsSpan().IndexOf("bext"u8);
        ReadOnlySpan<byte> body = bytes.AsSpan(chunk + 8);
        Assert.Equal("The Kelp Ledger: Test", Text(body[..256]));
        Assert.Equal("Harbour Street Mastering", Text(body.Slice(256, 32)));
        Assert.Equal("2026-03-01", Text(body.Slice(320, 10)));
        Assert.Equal(2, BinaryPrimitives.ReadUInt16LittleEndian(body[346..]));
        Assert.Equal(report.Files[0].Loudness.IntegratedLufs, BinaryPrimitives.ReadInt16LittleEndian(body[412..]) / 100.0, 0.006);
        Assert.Equal(report.Files[0].Loudness.TruePeakDbtp, BinaryPrimitives.ReadInt16LittleEndian(body[416..]) / 100.0, 0.01);
        Assert.StartsWith("A=PCM,F=48000,W=24,M=stereo,T=", Text(body[602..700]), StringComparison.Ordinal);
    }

    [Fact]
    public void OtherRatesComeOutAtTheirLengthUnderTheCeiling()
    {
        DeliveryReport report = Deliver(Order(["disc", "high-rate"]));
        DeliveredFile disc = report.Files.Single(file => file.Variant == "disc");
        DeliveredFile high = report.Files.Single(file => file.Variant == "high-rate");
        Assert.Equal((44_100, 16, (long)Math.Ceiling(Frames * 44_100.0 / 48_000)), (disc.SampleRate, disc.Bits, disc.Frames));
        Assert.Equal((96_000, 24, 2L * Frames), (high.SampleRate, high.Bits, high.Frames));
        Assert.All(report.Files, file => Assert.True(file.PreciseTruePeakDbtp <= -0.9));
    }

    [Fact]
    public void MasterAboveItsCeilingIsRefusedAndLeavesNothing()
    {
        ChainSlot loud = TestSong.Slot("limiter", ("inputGainDb", 12), ("ceilingDbtp", 0));
        song.Song = song.Song with { Bus = TestSong.Chain(loud) };
        DeliveryException fault = Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"])));
        Assert.Contains("ceiling", fault.Message, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFileSystemEntries(Path.Combine(song.Folder, "deliveries")));
    }

    [Fact]
    public void AFileThatLostItsBytesWhileTheDeliveryWasUnderWayIsMadeAgain()
    {
        DeliveryOrder order = Order(["archive", "disc", "float"]);
        DeliveryReport undisturbed = Deliver(order, "one");
        using CancellationTokenSource interruption = new();
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(order, "two", new Stop(0.3, interruption), interruption));
        string torn = Directory.EnumerateFiles(Path.Combine(song.Folder, "two"), "*.wav", SearchOption.AllDirectories).First();
        File.WriteAllBytes(torn, new byte[new FileInfo(torn).Length]);
        Assert.Equal(Sums(undisturbed), Sums(Deliver(order, "two")));
    }

    [Fact]
    public void TwoRunsOfOneOrderAtOnceDoNotWriteTheSameFiles()
    {
        DeliveryOrder order = Order(["archive"]) with { HasTreatedStems = true };
        string? said = null;
        Aside second = new(() => said ??= Assert.Throws<DeliveryException>(() => Deliver(order, "two")).Message);
        Assert.Equal(1, Deliver(order, "two", second).Number);
        Assert.Contains("another run is making this very delivery", said, StringComparison.Ordinal);
    }

    [Fact]
    public void ADeliveryLeftUnderWayIsToldOfWhenAnotherIsMade()
    {
        using CancellationTokenSource interruption = new();
        interruption.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(Order(["archive"]), interruption: interruption));
        DeliveryReport other = Deliver(Order(["float"]));
        Assert.Equal(2, other.Number);
        Assert.Contains(other.Remarks, remark => remark.Contains("Delivery 1 (under way)", StringComparison.Ordinal));
    }

    [Fact]
    public void AlternatesTellHowTheyLieAgainstTheMaster()
    {
        DeliveryReport report = Deliver(Order(["disc"]) with { Alternates = [Alternate.Parse("instrumental"), Alternate.Parse("vocal-down=1")] });
        Assert.All(report.Files, file => Assert.Equal(file.Kind == DeliveredKind.Alternate, file.CorrelationWithMaster is > 0.3 and <= 1));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AlternatesAreAsLongAsTheMasterThatRingsOnBehindItsBusInput(bool isLinked)
    {
        // A narrow bell at 30 Hz on the bus rings for seconds behind the stems; the end is cut where the master falls silent.
        song.Song = song.Song with { Bus = song.Song.Bus with { Slots = song.Song.Bus.Slots.Insert(0, TestSong.Slot("equaliser", ("band1.on", 1), ("band1.frequencyHz", 30), ("band1.gainDb", 12), ("band1.q", 20))) } };
        DeliveryReport report = Deliver(Order(["archive"]) with { Alternates = [Alternate.Parse("instrumental"), Alternate.Parse("a-cappella")], IsLinked = isLinked });
        Assert.True(report.Files[0].Frames > Frames);
        Assert.All(report.Files, file => Assert.Equal(report.Files[0].Frames, file.Frames));
    }

    [Fact]
    public void WhatIsOffItsTargetIsToldBesideTheFile()
    {
        Album album = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(-30, -1), [song.Song], []);
        DeliveryReport report = DeliveryRun.Deliver(album, song.Folder, BuiltInProcessors.Catalogue, Order(["archive"]), Path.Combine(song.Folder, "off"), 1, null, TestContext.Current.CancellationToken);
        Assert.Contains(report.Files[0].Notes, note => note.EndsWith("LU above the target of -30.0 LUFS", StringComparison.Ordinal));
    }

    [Fact]
    public void WhatCanNeverBeMadeIsRefusedBeforeAnythingIsRendered()
    {
        Song[] many = [.. Enumerable.Range(0, 100).Select(number => song.Song with { Title = $"Test {number}" })];
        Album album = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [.. many], []);
        Assert.Contains("99 tracks", Refusal(album, Order(["disc"]) with { Songs = [.. Enumerable.Range(0, 100)], HasContinuous = true }), StringComparison.Ordinal);
        Assert.Contains("is longer than one of them", Refusal(album with { Songs = [many[0] with { Edges = SongEdges.Usual with { CrossFadeSeconds = 30 } }, many[1]] }, Order(["disc"]) with { Songs = [0, 1], HasContinuous = true }), StringComparison.Ordinal);
        Assert.Contains("own rate", Refusal(album, Order(["disc"]) with { Alternates = [Alternate.Parse("instrumental")], IsLinked = true }), StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(song.Folder, "deliveries")));
    }

    [Fact]
    public void ADeliveryFolderNeverStandsWithoutTheRecordThatTakesItUpAgain()
    {
        // A run that was killed right after it had begun: nothing delivered yet, and the next run takes the same number.
        using CancellationTokenSource interruption = new();
        interruption.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => Deliver(Order(["archive"]), interruption: interruption));
        string root = Path.Combine(song.Folder, "deliveries");
        Assert.Equal([".under-way.json"], Directory.EnumerateFiles(Path.Combine(root, "Delivery 1 (under way)")).Select(Path.GetFileName));
        string left = Path.Combine(root, ".unbegun left");
        Directory.CreateDirectory(left);
        Directory.SetLastWriteTimeUtc(left, DateTime.UtcNow.AddHours(-1));
        Assert.Equal(1, Deliver(Order(["archive"])).Number);
        Assert.Equal(2, Deliver(Order(["archive"])).Number);
        Assert.False(Directory.Exists(left));
    }

    [Fact]
    public void PlainRenderIsCutAndFadedToTheBitAsTheDeliveryIs()
    {
        song.Song = song.Song with { Edges = SongEdges.Usual with { TrimStartSeconds = 0.25, TrimEndSeconds = 0.5, FadeInSeconds = 0.1, FadeOutSeconds = 1.3, FadeOutShape = FadeShape.EqualPower } };
        string plain = Path.Combine(song.Folder, "plain.wav");
        MasterReport master = MasterRenderer.Render(song.Song, song.Folder, BuiltInProcessors.Catalogue, new MasterFormat(32, true, null), RenderOptions.Default, plain, null, CancellationToken.None);
        DeliveryReport report = Deliver(Order(["float"]));
        Assert.Equal(Read(plain).Left, Read(Named(report, DeliveredKind.Master)).Left);
        Assert.Equal(Read(plain).Right, Read(Named(report, DeliveredKind.Master)).Right);
        Assert.Equal((double)report.Files[0].Frames / TestSong.SampleRate, master.Seconds);
    }

    [Fact]
    public void EdgesLongerThanTheSongAreRefusedByThePlainRenderToo()
    {
        song.Song = song.Song with { Edges = SongEdges.Usual with { FadeOutSeconds = 10 } };
        string plain = Path.Combine(song.Folder, "plain.wav");
        Assert.Throws<DeliveryException>(() => MasterRenderer.Render(song.Song, song.Folder, BuiltInProcessors.Catalogue, MasterFormat.Native, RenderOptions.Default, plain, null, CancellationToken.None));
        Assert.False(File.Exists(plain));
    }

    [Fact]
    public void AProcessorThatIsMissingStopsTheDeliveryUntilItIsSwitchedOff()
    {
        song.Song = song.Song with { Stems = song.Song.Stems.SetItem(0, song.Song.Stems[0] with { Chain = TestSong.Chain(TestSong.Slot("tide-gate")) }) };
        string message = Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"]))).Message;
        Assert.Contains("'Test', band: the processor 'tide-gate' is not here", message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(song.Folder, "deliveries")));

        song.Song = song.Song with { Stems = song.Song.Stems.SetItem(0, song.Song.Stems[0] with { Chain = TestSong.Chain(TestSong.Slot("tide-gate") with { Bypassed = true }) }) };
        DeliveryReport report = Deliver(Order(["archive"]));
        Assert.Contains("Test: band: tide-gate is switched off", report.Remarks);
        Assert.Contains("tide-gate is switched off", File.ReadAllText(Path.Combine(report.Folder, "manifest.json")), StringComparison.Ordinal);
    }

    [Fact]
    public void AProcessorThatFailsLeavesNothingDeliveredEvenIfAnotherKeptTheRender()
    {
        ProcessorCatalogue catalogue = new([.. BuiltInProcessors.Makers, new ProcessorMaker(TestProcessors.Catalogue.Find("breaker")!, () => TestProcessors.Catalogue.Create("breaker")!)]);
        song.Song = song.Song with { SampleRate = TestSong.SampleRate, Stems = song.Song.Stems.SetItem(0, song.Song.Stems[0] with { Chain = TestSong.Chain(TestSong.Slot("breaker")) }) };
        Song upToLimiter = song.Song with { Bus = song.Song.Bus with { Slots = song.Song.Bus.Slots[..^1] } };
        string kept = new RenderStore(CacheFolder.For("renders"), song.Folder, catalogue).Get(upToLimiter, CancellationToken.None);
        Assert.EndsWith(".lacking.wav", kept, StringComparison.Ordinal);
        string message = Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"]), catalogue: catalogue)).Message;
        Assert.Contains("'Test': band: breaker has failed", message, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(song.Folder, "deliveries"), "*.wav", SearchOption.AllDirectories));
    }

    [Fact]
    public void TwoSongsThatWouldGetOneNameAreRefusedBeforeAnythingIsRendered()
    {
        DeliveryOrder order = Order(["archive"]) with { Alternates = [Alternate.Parse("instrumental"), Alternate.Parse("a-cappella")], Names = NamePattern.Parse("{title}") };
        Assert.NotEmpty(Deliver(order).Files);
        Album two = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [song.Song, song.Song with { Title = "TEST" }], []);
        Assert.Contains("would both be called", Assert.Throws<DeliveryException>(() => DeliveryNames.Check(two, order with { Songs = [0, 1] })).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AMissingRecordingCodeIsRemarked() =>
        Assert.Contains(Deliver(Order(["archive"])).Remarks, remark => remark.StartsWith("Test: has no recording code", StringComparison.Ordinal));

    [Theory]
    [InlineData("vocal-up=0")]
    [InlineData("vocal-up=loud")]
    [InlineData("karaoke")]
    [InlineData("without=")]
    public void AlternateThatIsNoneIsRefused(string text) =>
        Assert.Throws<DeliveryException>(() => Alternate.Parse(text));

    [Fact]
    public void AlternateWithNothingLeftIsRefused()
    {
        song.Song = song.Song with { Stems = [.. song.Song.Stems.Select(stem => stem with { Role = StemRole.LeadVocal })] };
        Assert.Contains("no stem is left", Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"]) with { Alternates = [Alternate.Parse("instrumental")] })).Message, StringComparison.Ordinal);
    }

    private static DeliveryOrder Order(string[] formats) =>
        new([0], [.. formats.Select(DeliveryFormat.Find)], [], false, false, new DateOnly(2026, 3, 1), "LiveStems");

    private DeliveryReport Deliver(DeliveryOrder order, string folder = "deliveries", IProgress<double>? progress = null, CancellationTokenSource? interruption = null, ProcessorCatalogue? catalogue = null)
    {
        Album album = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [song.Song], []);
        return DeliveryRun.Deliver(album, song.Folder, catalogue ?? BuiltInProcessors.Catalogue, order, Path.Combine(song.Folder, folder), 2, progress, interruption?.Token ?? TestContext.Current.CancellationToken);
    }

    private DeliveryReport Run(Album album, DeliveryOrder order) =>
        DeliveryRun.Deliver(album, song.Folder, BuiltInProcessors.Catalogue, order, Path.Combine(song.Folder, "deliveries"), 2, null, TestContext.Current.CancellationToken);

    private static IEnumerable<string> SumsOf(DeliveryReport report, string title) => report.Files.Where(file => file.Song == title).Select(file => file.Sha256);

    private string Refusal(Album album, DeliveryOrder order) => Assert.Throws<DeliveryException>(() =>
        DeliveryRun.Deliver(album, song.Folder, BuiltInProcessors.Catalogue, order, Path.Combine(song.Folder, "deliveries"), 2, null, TestContext.Current.CancellationToken)).Message;

    private static string Named(DeliveryReport report, DeliveredKind kind, string? variant = null) =>
        Path.Combine(report.Folder, report.Files.First(file => file.Kind == kind && (variant is null || file.Variant == variant)).Name);

    private static IEnumerable<(string, string)> Sums(DeliveryReport report) => report.Files.Select(file => (file.Name, file.Sha256)).Order();

    private static string Text(ReadOnlySpan<byte> bytes) => Encoding.ASCII.GetString(bytes).TrimEnd('\0');

    private static (float[] Left, float[] Right) Read(string path)
    {
        using IAudioReader reader = AudioFile.Open(path);
        float[] left = new float[reader.Info.Frames];
        float[] right = new float[reader.Info.Frames];
        for (int done = 0; done < left.Length;)
        {
            done += reader.Read(left.AsSpan(done), right.AsSpan(done));
        }

        return (left, right);
    }

    private void AddBand()
    {
        song.AddStem("band", Bursts(1), Bursts(2), stem => stem with
        {
            Role = StemRole.Drums,
            Chain = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -30))),
        });
        song.AddStem("voice", Bursts(3), Bursts(4), stem => stem with { Role = StemRole.LeadVocal });
        song.Song = song.Song with
        {
            Bus = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -20)), TestSong.Slot("limiter", ("inputGainDb", 6), ("ceilingDbtp", -1))),
        };
    }

    private static float[] Bursts(int seed)
    {
        float[] sound = Noise.White(Frames, seed, 0.3f);
        for (int i = 0; i < sound.Length; i++)
        {
            sound[i] *= MathF.Exp(-((i + 3000 * seed) % 12_000) / 3000f);
        }

        return sound;
    }

    private sealed class Aside(Action act) : IProgress<double>
    {
        public void Report(double value)
        {
            if (value < 1)
            {
                act();
            }
        }
    }

    private sealed class Stop(double share, CancellationTokenSource interruption) : IProgress<double>
    {
        public void Report(double value)
        {
            if (value >= share)
            {
                interruption.Cancel();
            }
        }
    }
}
