using LiveStems.Engine.Live;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class LaneReductionTests : DrawerTest
{
    [Fact]
    public void TheChosenCorrectionIsShownByItselfInItsLaneAndNoOther()
    {
        Wait(() => !Desk.Lanes.IsStale && Desk.Lanes.Lanes.Lanes.Count > 0);
        AssertAlone(null, null);
        Desk.Select(TapPlace.OfStem(0) with { Slot = "compressor" });
        Frame();
        AssertAlone(0, Desk.Lanes.Lanes.Of(TapPlace.OfStem(0)));

        // One that takes nothing away: the limiter of so quiet a song.
        Desk.Select(TapPlace.Bus with { Slot = "limiter" });
        Frame();
        AssertAlone(3, Desk.Lanes.Lanes.Of(TapPlace.Bus));

        // A whole chain shows what all do together.
        Desk.Select(TapPlace.OfStem(0));
        Frame();
        AssertAlone(null, null);
    }

    [Fact]
    public void TheChosenCorrectionStaysShownWhenLanesComeAnew()
    {
        Wait(() => !Desk.Lanes.IsStale && Desk.Lanes.Lanes.Lanes.Count > 0);
        Desk.Select(TapPlace.OfStem(0) with { Slot = "compressor" });
        Frame();
        LaneSet before = Desk.Lanes.Lanes;
        Assert.Null(Desk.Chain.Processors[1].Parameter("thresholdDb")!.SetText("-30 dB"));
        Wait(() => !Desk.Lanes.IsStale && !ReferenceEquals(Desk.Lanes.Lanes, before));
        AssertAlone(0, Desk.Lanes.Lanes.Of(TapPlace.OfStem(0)));
    }

    // A row, and its lane; null for none.
    private void AssertAlone(int? row, Lane? lane)
    {
        for (int i = 0; i < Screen.Lanes.Rows.Count; i++)
        {
            if (i == row)
            {
                Assert.Equal(lane!.Reductions.GetValueOrDefault(Desk.Selection.Slot!) ?? [], Screen.Lanes.Alone(i));
            }
            else
            {
                Assert.Null(Screen.Lanes.Alone(i));
            }
        }
    }
}
