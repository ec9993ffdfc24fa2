using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Engine.Live;
using LiveStems.Tests.Signals;
using LiveStems.View.Desk;
using Xunit;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Tests.View.Desk;

public sealed class BlendJobTests : IDisposable
{
    private const int SampleRate = TestSong.SampleRate;
    private const double OnsetDb = 0.5;

    private readonly TestSong stems = new();
    private readonly ManualDevice device = new(SampleRate, 256);
    private readonly ManualResetEventSlim mayBegin = new();

    public BlendJobTests()
    {
        // Every half second 25 ms of loud noise, then 250 ms of quiet, beside other noise.
        float[] hits = Noise.White(2 * SampleRate, 1, 1);
        for (int i = 0; i < hits.Length; i++)
        {
            double place = i % (SampleRate / 2) / (double)SampleRate - 0.1;
            hits[i] *= place is >= 0 and < 0.025 ? 0.4f : place is >= 0.025 and < 0.275 ? 0.1f : 0;
        }

        float[] bed = Noise.White(2 * SampleRate, 3, 0.1f);
        stems.AddStem("Drums", hits, hits, stem => stem with { Parallels = [TestSong.ParallelPath(true, -60) with { Muted = true }] });
        stems.AddStem("Bed", bed, bed);
        Song first = stems.Song with { Title = "Low Tide" };
        Song alike = first with { Title = "High Tide" };
        Song bare = first with { Title = "Slack", Stems = [first.Stems[1]] };
        AlbumFile.Save(new Album("Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [first, alike, bare], []), stems.Folder, BuiltInProcessors.Catalogue);
    }

    public void Dispose()
    {
        mayBegin.Dispose();
        stems.Dispose();
    }

    [Fact]
    public void ABlendThatIsFoundIsSetAndItsFiguresStand()
    {
        using AlbumDesk desk = Open();
        DeskJob job = Begin(desk);
        End(desk, job);
        Assert.InRange(Path(desk, 0).BlendDb, -40, 12);
        Assert.False(Path(desk, 0).Muted);
        Assert.Equal(OnsetDb, desk.Parallels.HitsOf(desk.Stems[0].Parallels[0])!.FairOnsetDb, 0.05);
        Assert.NotNull(desk.Undo());
        Assert.Equal(-60, Path(desk, 0).BlendDb);
        Assert.Null(desk.Parallels.HitsOf(desk.Stems[0].Parallels[0]));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void ABlendThatIsFoundWhileAnotherSongIsShownIsThatOfItsOwnSong(int shown)
    {
        using AlbumDesk desk = Open();
        DeskJob job = Begin(desk);
        desk.ShowSong(shown);
        End(desk, job);
        Assert.InRange(Path(desk, 0).BlendDb, -40, 12);
        Assert.Equal((-60, true), (Path(desk, 1).BlendDb, Path(desk, 1).Muted));
        Assert.Equal(shown, desk.SongIndex);
    }

    [Fact]
    public void ABlendFollowsItsSongAndItsStemToOtherPlacesAndNames()
    {
        using AlbumDesk desk = Open();
        DeskJob job = Begin(desk);
        Assert.Null(desk.Stems[0].Rename("Kit"));
        Assert.Null(desk.Songs.Move(0, 2));
        desk.ShowSong(0);
        End(desk, job);
        Assert.InRange(Path(desk, 2).BlendDb, -40, 12);
        Assert.Equal(-60, Path(desk, 0).BlendDb);
    }

    [Fact]
    public void ABlendOfAParallelThatIsGoneIsSetNowhereAndThatIsSaid()
    {
        using AlbumDesk desk = Open();
        DeskJob job = Begin(desk);
        Assert.Null(desk.Stems[0].Parallels[0].Remove());
        Album before = desk.Album;
        End(desk, job);
        Assert.Same(before, desk.Album);
        Assert.Contains(desk.Messages, message => message.Text.Contains("'Drums, Under' in 'Low Tide' was found, but the parallel is gone", StringComparison.Ordinal));
    }

    [Fact]
    public void FiguresOfASongThatWasChangedWhileItWasMeasuredDoNotCount()
    {
        using AlbumDesk desk = Open();
        Hold(desk);
        DeskJob job = desk.Parallels.MeasureHits(desk.Stems[0].Parallels[0]);
        Assert.Null(desk.Stems[1].Gain.SetText("-3 dB"));
        End(desk, job);
        Assert.Null(desk.Parallels.HitsOf(desk.Stems[0].Parallels[0]));
        Assert.NotNull(desk.Undo());
        Assert.NotNull(desk.Parallels.HitsOf(desk.Stems[0].Parallels[0]));
    }

    private static Parallel Path(AlbumDesk desk, int song) => desk.Album.Songs[song].Stems[0].Parallels[0];

    private AlbumDesk Open() => AlbumDesk.Open(stems.Folder, BuiltInProcessors.Catalogue, device);

    // It waits for End.
    private DeskJob Begin(AlbumDesk desk)
    {
        Hold(desk);
        return desk.Parallels.BlendTo(desk.Stems[0].Parallels[0], OnsetDb);
    }

    private void Hold(AlbumDesk desk) =>
        desk.Jobs.Start("hold", "holding the thread", (_, cancellation) => mayBegin.Wait(TimeSpan.FromSeconds(60), cancellation), _ => { });

    private void End(AlbumDesk desk, DeskJob job)
    {
        mayBegin.Set();
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                desk.Update();
                return !job.IsOpen;
            },
            TimeSpan.FromSeconds(60)));
        Assert.Equal((JobState.Done, string.Empty), (job.State, job.Fault));
    }
}
