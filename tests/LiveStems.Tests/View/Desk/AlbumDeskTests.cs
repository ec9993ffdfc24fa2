using LiveStems.Engine.Live;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class AlbumDeskTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void GainDraggedInManyStepsIsUndoneAsOne()
    {
        using AlbumDesk desk = album.Open();
        StemRow bass = desk.Stems[0];
        for (int i = 0; i < 20; i++)
        {
            Assert.Null(bass.Gain.Drag(0.5 + i * 0.01));
        }

        desk.EndGesture();
        double dragged = bass.Gain.Value;
        Assert.NotEqual(0, dragged);
        Assert.NotNull(desk.Undo());
        Assert.Equal(0, bass.Gain.Value);
        Assert.NotNull(desk.Redo());
        Assert.Equal(dragged, bass.Gain.Value);
    }

    [Fact]
    public void SwitchesFlippedOneRightAfterTheOtherAreStepsOfTheirOwn()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Stems[0].ToggleMute());
        Assert.Null(desk.Stems[1].ToggleMute());
        Assert.Null(desk.Stems[0].ToggleBypass());
        Assert.Null(desk.Stems[1].ToggleBypass());
        Assert.NotNull(desk.Undo());
        Assert.Equal((true, false), (desk.Stems[0].IsBypassed, desk.Stems[1].IsBypassed));
        Assert.NotNull(desk.Undo());
        Assert.NotNull(desk.Undo());
        Assert.Equal((true, false), (desk.Stems[0].IsMuted, desk.Stems[1].IsMuted));

        // There and back are two steps, each with something to show.
        Assert.Null(desk.Stems[1].NextPolarity());
        Assert.Null(desk.Stems[1].SetRole(LiveStems.Albums.Model.StemRole.Other));
        Assert.Null(desk.Stems[1].SetRole(LiveStems.Albums.Model.StemRole.LeadVocal));
        Assert.NotNull(desk.Undo());
        Assert.Equal(LiveStems.Albums.Model.StemRole.Other, desk.Stems[1].Role);
    }

    [Fact]
    public void WhatIsTypedIsTakenWithItsUnitOrRefusedInOneLine()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(desk.Stems[0].Place);
        ValueField threshold = desk.Chain.Processors[1].Parameter("thresholdDb")!;
        Assert.Null(threshold.SetText("-31 dB"));
        Assert.Equal("−31 dB", threshold.Text);
        string? fault = threshold.SetText("loud");
        Assert.NotNull(fault);
        Assert.DoesNotContain('\n', fault);
        Assert.Equal(-31, threshold.Value);
    }

    [Fact]
    public void LevelsBeforeAndAfterTheChainAndItsGainReductionAreMetered()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(desk.Stems[0].Place);
        album.Run(desk, 0.2);
        desk.Transport.Play();
        album.Run(desk, 1.6);

        // A sine of amplitude 0.2 is at −13.98 dBFS; 26 dB above the threshold, at 4:1 it comes down by about 19 dB.
        Assert.Equal(-13.98, desk.Stems[0].Meter.InputPeakDbfs, 0.3);
        Assert.InRange(desk.Chain.Processors[1].ReductionDb, -21, -15);
        Assert.InRange(desk.Stems[0].Meter.ReductionDb, -21, -15);
        Assert.InRange(20 * Math.Log10(desk.Stems[0].Meter.LatestOutput), -36, -30);
    }

    [Fact]
    public void SelectionFollowsWhatIsThere()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(new TapPlace(0, -1, "compressor"));
        Assert.Equal("compressor", desk.Chain.Selected!.Id);
        Assert.Null(desk.Chain.Selected.Remove());
        Assert.Null(desk.Chain.Selected);
        Assert.Equal(TapPlace.OfStem(0), desk.Selection);
        desk.Select(TapPlace.OfStem(17));
        Assert.Equal(TapPlace.Bus, desk.Selection);
    }
}
