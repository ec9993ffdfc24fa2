using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class WorkTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void CheckSearchAndMaskingMapComeBackToTheDesk()
    {
        using AlbumDesk desk = album.Open();
        WaitFor(desk, desk.Work.Check());
        WaitFor(desk, desk.Finding.Search());
        WaitFor(desk, desk.Finding.Map());
        Assert.NotNull(desk.Work.Intake);
        Assert.NotNull(desk.Finding.Of(0));
        Assert.NotNull(desk.Finding.Of(1));
        Assert.NotNull(desk.Finding.Masking);
        desk.ShowSong(1);
        Assert.NotNull(desk.Finding.Of(0));
        Assert.Null(desk.Finding.Masking);
    }

    [Fact]
    public void TheAccountIsOldOnceTheSongSoundsOtherAndHoldsAgainOnceItDoesNot()
    {
        using AlbumDesk desk = album.Open();
        Assert.False(desk.Work.IsAccountOld);
        WaitFor(desk, desk.Work.Account());
        Assert.False(desk.Work.IsAccountOld);
        Assert.Null(desk.Notes.AddToStem(0, 1, "the slide stays"));
        Assert.Null(desk.EditSong(song => Reasoned(song)));
        Assert.False(desk.Work.IsAccountOld);
        desk.Select(TapPlace.OfStem(0));
        Assert.Null(desk.Chain.Processors[1].Parameter("thresholdDb")!.SetText("-30 dB"));
        Assert.True(desk.Work.IsAccountOld);
        Assert.NotNull(desk.Work.ShownAccount);
        Assert.Null(desk.Chain.Processors[1].Parameter("thresholdDb")!.SetText("-40 dB"));
        Assert.False(desk.Work.IsAccountOld);
        Assert.Null(desk.Stems[1].Parallels[0].ToggleMute());
        Assert.True(desk.Work.IsAccountOld);
        WaitFor(desk, desk.Work.Account());
        Assert.False(desk.Work.IsAccountOld);
    }

    [Fact]
    public void AMaskingMapIsOldOnceWhatItListenedToIsOther()
    {
        using AlbumDesk desk = album.Open();
        Assert.False(desk.Finding.IsMaskingOld(true));
        WaitFor(desk, desk.Finding.Map());
        desk.Select(TapPlace.Bus);
        Assert.Null(desk.Chain.Processors[0].ToggleBypass());
        Assert.Equal((false, false), (desk.Finding.IsMaskingOld(true), desk.Finding.IsMaskingOld(false)));
        desk.Select(TapPlace.OfStem(0));
        Assert.Null(desk.Chain.Processors[1].ToggleBypass());
        Assert.Equal((true, false), (desk.Finding.IsMaskingOld(true), desk.Finding.IsMaskingOld(false)));
        Assert.Null(desk.Stems[0].Gain.SetText("-2 dB"));
        Assert.Equal((true, true), (desk.Finding.IsMaskingOld(true), desk.Finding.IsMaskingOld(false)));
        desk.ShowSong(1);
        Assert.False(desk.Finding.IsMaskingOld(true));
    }

    private static Song Reasoned(Song song)
    {
        Stem stem = song.Stems[0];
        return song with
        {
            Stems = song.Stems.SetItem(0, stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.SetItem(1, stem.Chain.Slots[1] with { Reason = "steadier" }) } }),
        };
    }

    private static void WaitFor(AlbumDesk desk, DeskJob job)
    {
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                desk.Update();
                return !job.IsOpen;
            },
            TimeSpan.FromSeconds(120)));
        Assert.Equal((JobState.Done, string.Empty), (job.State, job.Fault));
    }
}
