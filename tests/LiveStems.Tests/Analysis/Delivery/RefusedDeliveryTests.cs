using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Delivery;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

/// <summary>What is never delivered.</summary>
public sealed class RefusedDeliveryTests : DeliveryTest
{
    [Fact]
    public void MasterAboveItsCeilingIsRefusedAndLeavesNothing()
    {
        ChainSlot loud = TestSong.Slot("limiter", ("inputGainDb", 12), ("ceilingDbtp", 0));
        Source.Song = Source.Song with { Bus = TestSong.Chain(loud) };
        DeliveryException fault = Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"])));
        Assert.Contains("ceiling", fault.Message, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFileSystemEntries(Path.Combine(Source.Folder, "deliveries")));
    }

    [Fact]
    public void WhatCanNeverBeMadeIsRefusedBeforeAnythingIsRendered()
    {
        Song[] many = [.. Enumerable.Range(0, 100).Select(number => Source.Song with { Title = $"Test {number}" })];
        Album album = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [.. many], []);
        Assert.Contains("99 tracks", Refusal(album, Order(["disc"]) with { Songs = [.. Enumerable.Range(0, 100)], HasContinuous = true }), StringComparison.Ordinal);
        Assert.Contains("is longer than one of them", Refusal(album with { Songs = [many[0] with { Edges = SongEdges.Usual with { CrossFadeSeconds = 30 } }, many[1]] }, Order(["disc"]) with { Songs = [0, 1], HasContinuous = true }), StringComparison.Ordinal);
        Assert.Contains("own rate", Refusal(album, Order(["disc"]) with { Alternates = [Alternate.Parse("instrumental")], IsLinked = true }), StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(Source.Folder, "deliveries")));
    }

    [Fact]
    public void EdgesLongerThanTheSongAreRefusedByThePlainRenderToo()
    {
        Source.Song = Source.Song with { Edges = SongEdges.Usual with { FadeOutSeconds = 10 } };
        string plain = Path.Combine(Source.Folder, "plain.wav");
        Assert.Throws<DeliveryException>(() => MasterRenderer.Render(Source.Song, Source.Folder, BuiltInProcessors.Catalogue, MasterFormat.Native, RenderOptions.Default, plain, null, CancellationToken.None));
        Assert.False(File.Exists(plain));
    }

    [Fact]
    public void AProcessorThatIsMissingStopsTheDeliveryUntilItIsSwitchedOff()
    {
        Source.Song = Source.Song with { Stems = Source.Song.Stems.SetItem(0, Source.Song.Stems[0] with { Chain = TestSong.Chain(TestSong.Slot("tide-gate")) }) };
        string message = Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"]))).Message;
        Assert.Contains("'Test', band: the processor 'tide-gate' is not here", message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(Source.Folder, "deliveries")));

        Source.Song = Source.Song with { Stems = Source.Song.Stems.SetItem(0, Source.Song.Stems[0] with { Chain = TestSong.Chain(TestSong.Slot("tide-gate") with { Bypassed = true }) }) };
        DeliveryReport report = Deliver(Order(["archive"]));
        Assert.Contains("Test: band: tide-gate is switched off", report.Remarks);
        Assert.Contains("tide-gate is switched off", File.ReadAllText(Path.Combine(report.Folder, "manifest.json")), StringComparison.Ordinal);
    }

    [Fact]
    public void AProcessorThatFailsLeavesNothingDeliveredEvenIfAnotherKeptTheRender()
    {
        ProcessorCatalogue catalogue = new([.. BuiltInProcessors.Makers, new ProcessorMaker(TestProcessors.Catalogue.Find("breaker")!, () => TestProcessors.Catalogue.Create("breaker")!)]);
        Source.Song = Source.Song with { SampleRate = TestSong.SampleRate, Stems = Source.Song.Stems.SetItem(0, Source.Song.Stems[0] with { Chain = TestSong.Chain(TestSong.Slot("breaker")) }) };
        Song upToLimiter = Source.Song with { Bus = Source.Song.Bus with { Slots = Source.Song.Bus.Slots[..^1] } };
        string kept = new RenderStore(CacheFolder.For("renders"), Source.Folder, catalogue).Get(upToLimiter, CancellationToken.None);
        Assert.EndsWith(".lacking.wav", kept, StringComparison.Ordinal);
        string message = Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"]), catalogue: catalogue)).Message;
        Assert.Contains("'Test': band: breaker has failed", message, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(Source.Folder, "deliveries"), "*.wav", SearchOption.AllDirectories));
    }

    [Fact]
    public void TwoSongsThatWouldGetOneNameAreRefusedBeforeAnythingIsRendered()
    {
        DeliveryOrder order = Order(["archive"]) with { Alternates = [Alternate.Parse("instrumental"), Alternate.Parse("a-cappella")], Names = NamePattern.Parse("{title}") };
        Assert.NotEmpty(Deliver(order).Files);
        Album two = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, -1), [Source.Song, Source.Song with { Title = "TEST" }], []);
        Assert.Contains("would both be called", Assert.Throws<DeliveryException>(() => DeliveryNames.Check(two, order with { Songs = [0, 1] })).Message, StringComparison.Ordinal);
    }

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
        Source.Song = Source.Song with { Stems = [.. Source.Song.Stems.Select(stem => stem with { Role = StemRole.LeadVocal })] };
        Assert.Contains("no stem is left", Assert.Throws<DeliveryException>(() => Deliver(Order(["archive"]) with { Alternates = [Alternate.Parse("instrumental")] })).Message, StringComparison.Ordinal);
    }
}
