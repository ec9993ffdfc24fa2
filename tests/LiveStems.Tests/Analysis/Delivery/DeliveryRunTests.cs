using System.Buffers.Binary;
using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

/// <summary>What a delivery holds.</summary>
public sealed class DeliveryRunTests : DeliveryTest
{
    [Fact]
    public void MasterIsTheEnginesRenderToTheBit()
    {
        string plain = Path.Combine(Source.Folder, "plain.wav");
        MasterRenderer.Render(Source.Song, Source.Folder, BuiltInProcessors.Catalogue, MasterFormat.Native, RenderOptions.Default, plain, null, CancellationToken.None);
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
        Source.Song = Source.Song with { Stems = [Source.Song.Stems[0]], Notes = [] };
        (float[] left, _) = Source.Render(catalogue: BuiltInProcessors.Catalogue);
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
        Source.Song = Source.Song with { Bus = Chain.Empty };
        (float[] bus, _) = Source.Render(catalogue: BuiltInProcessors.Catalogue);
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
        Album before = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [Source.Song, Source.Song with { Title = "Other" }], []);
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
        Source.Song = Source.Song with { Bus = Source.Song.Bus with { Slots = Source.Song.Bus.Slots.Insert(0, TestSong.Slot("equaliser", ("band1.on", 1), ("band1.frequencyHz", 30), ("band1.gainDb", 12), ("band1.q", 20))) } };
        DeliveryReport report = Deliver(Order(["archive"]) with { Alternates = [Alternate.Parse("instrumental"), Alternate.Parse("a-cappella")], IsLinked = isLinked });
        Assert.True(report.Files[0].Frames > Frames);
        Assert.All(report.Files, file => Assert.Equal(report.Files[0].Frames, file.Frames));
    }

    [Fact]
    public void WhatIsOffItsTargetIsToldBesideTheFile()
    {
        Album album = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(-30, -1), [Source.Song], []);
        DeliveryReport report = DeliveryRun.Deliver(album, Source.Folder, BuiltInProcessors.Catalogue, Order(["archive"]), Path.Combine(Source.Folder, "off"), 1, null, TestContext.Current.CancellationToken);
        Assert.Contains(report.Files[0].Notes, note => note.EndsWith("LU above the target of -30.0 LUFS", StringComparison.Ordinal));
    }

    [Fact]
    public void PlainRenderIsCutAndFadedToTheBitAsTheDeliveryIs()
    {
        Source.Song = Source.Song with { Edges = SongEdges.Usual with { TrimStartSeconds = 0.25, TrimEndSeconds = 0.5, FadeInSeconds = 0.1, FadeOutSeconds = 1.3, FadeOutShape = FadeShape.EqualPower } };
        string plain = Path.Combine(Source.Folder, "plain.wav");
        MasterReport master = MasterRenderer.Render(Source.Song, Source.Folder, BuiltInProcessors.Catalogue, new MasterFormat(32, true, null), RenderOptions.Default, plain, null, CancellationToken.None);
        DeliveryReport report = Deliver(Order(["float"]));
        Assert.Equal(Read(plain).Left, Read(Named(report, DeliveredKind.Master)).Left);
        Assert.Equal(Read(plain).Right, Read(Named(report, DeliveredKind.Master)).Right);
        Assert.Equal((double)report.Files[0].Frames / TestSong.SampleRate, master.Seconds);
    }

    [Fact]
    public void AMissingRecordingCodeIsRemarked() =>
        Assert.Contains(Deliver(Order(["archive"])).Remarks, remark => remark.StartsWith("Test: has no recording code", StringComparison.Ordinal));
}
