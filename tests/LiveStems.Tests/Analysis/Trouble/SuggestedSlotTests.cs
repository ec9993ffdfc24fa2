using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Trouble;
using LiveStems.Processing.Catalogue;
using Xunit;

namespace LiveStems.Tests.Analysis.Trouble;

public class SuggestedSlotTests
{
    private static readonly SuggestedCorrection[] Advice =
    [
        CorrectionAdvice.Bell(2350, 0.2, 8.2, "w"),
        CorrectionAdvice.DynamicBell(240, 0.8, 30, "w"),
        CorrectionAdvice.Suppressor(11_900, 0.1, 22, "w"),
        CorrectionAdvice.DeEsser(5000, -3, 12),
        CorrectionAdvice.HighPass(45, "w"),
        CorrectionAdvice.LowPass(15_000, "w"),
        CorrectionAdvice.Notches([50, 100, 150, 200, 250, 300, 350, 400, 450]),
    ];

    [Fact]
    public void EveryCorrectionFitsTheCatalogueAndSurvivesTheFile()
    {
        foreach (SuggestedCorrection correction in Advice)
        {
            (Album changed, string address) = SuggestedSlot.Add(Before(), 0, 0, Finding(correction), BuiltInProcessors.Catalogue);
            ChainSlot slot = changed.Songs[0].Stems[0].Chain.Slots[^1];
            Assert.True(slot.Bypassed);
            Assert.True(slot.Suggested);
            Assert.StartsWith("Foghorn Waltz/Bass/", address);
            byte[] bytes = AlbumFile.ToBytes(changed, "album.json", BuiltInProcessors.Catalogue);
            Assert.True(AlbumFile.Parse(bytes, "album.json", BuiltInProcessors.Catalogue).Songs[0].Stems[0].Chain.Slots[^1].Suggested);
        }
    }

    [Fact]
    public void ApplyingCanBeTakenBack()
    {
        Album before = Before();
        EditHistory history = EditHistory.StartingWith(before)
            .Do(SuggestedSlot.Add(before, 0, 0, Finding(Advice[0]), BuiltInProcessors.Catalogue).Album, "suggested");
        Assert.Same(before, history.Undo().Current);
    }

    private static Album Before()
    {
        Stem bass = new("Bass", "Bass.wav", string.Empty, StemRole.Bass, Placement.AsDelivered, Chain.Empty, [], []);
        return new Album("A", "B", new DeliveryTargets(null, -1), [new Song("Foghorn Waltz", null, null, null, [bass], Chain.Empty, [])], []);
    }

    private static TroubleFinding Finding(SuggestedCorrection correction) =>
        new(TroubleKind.Resonance, Occurrence.Steady, 2350, 0.2, 8.2, 0.4, 1, [new TimeRange(0, 24)], 0, correction);
}
