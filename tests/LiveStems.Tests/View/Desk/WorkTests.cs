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
