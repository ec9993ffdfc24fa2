using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Albums;
using LiveStems.Tests.Engine;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class LaneTests : IDisposable
{
    private readonly DeskAlbum album = new();
    private readonly TemporaryFolder cache = new();

    public LaneTests() => Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cache.Path);

    public void Dispose()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", null);
        cache.Dispose();
        album.Dispose();
    }

    [Fact]
    public void ASongIsLookedOverPathByPath()
    {
        SongOverview overview = OverviewRenderer.Run(album.OnDisk().Songs[0], album.Folder, BuiltInProcessors.Catalogue, null, CancellationToken.None);
        Assert.Equal(["Bass", "Lead voice", "Lead voice, Under", "song bus"], overview.Paths.Select(path => path.Name));
        PathOverview bass = overview.Paths[0];
        int last = (int)(1.8 / overview.ColumnSeconds);

        // A sine of amplitude 0.2 has an RMS of 0.2/√2; 26 dB above the threshold at 4:1 it comes down by about 19.5 dB.
        Assert.Equal(0.2, bass.InputPeak[last], 0.002);
        Assert.Equal(bass.OutputPeak[last] / Math.Sqrt(2), bass.OutputRms[last], 0.02 * bass.OutputPeak[last]);
        Assert.InRange(bass.Reductions["compressor"][last], -21, -17);
        Assert.Equal(bass.Reductions["compressor"][last], 20 * Math.Log10(bass.OutputPeak[last] / bass.InputPeak[last]), 0.7);
        Assert.False(bass.Reductions.ContainsKey("equaliser"));
    }

    [Fact]
    public void WhatWasLookedOverOnceIsTakenFromTheCache()
    {
        using AlbumDesk desk = album.Open();
        WaitForLanes(desk);
        Assert.Equal(4, desk.Lanes.Lanes.Lanes.Count);
        float[] first = desk.Lanes.Lanes.Of(TapPlace.OfStem(0))!.OutputPeakDbfs;
        Assert.Single(Directory.GetFiles(Path.Combine(cache.Path, "overviews")));
        desk.ShowSong(1);
        desk.ShowSong(0);
        WaitForLanes(desk);
        Assert.Equal(first, desk.Lanes.Lanes.Of(TapPlace.OfStem(0))!.OutputPeakDbfs);
        Assert.Single(Directory.GetFiles(Path.Combine(cache.Path, "overviews")));
    }

    [Fact]
    public void ADamagedCacheIsComputedAnew()
    {
        using (AlbumDesk desk = album.Open())
        {
            WaitForLanes(desk);
        }

        string file = Assert.Single(Directory.GetFiles(Path.Combine(cache.Path, "overviews")));
        File.WriteAllBytes(file, File.ReadAllBytes(file)[..100]);
        using AlbumDesk again = album.Open();
        WaitForLanes(again);
        Assert.Equal(4, again.Lanes.Lanes.Lanes.Count);
    }

    [Fact]
    public void WhatPlaysRefinesLanesThatAreBehind()
    {
        using AlbumDesk desk = album.Open();
        WaitForLanes(desk);
        Assert.Null(desk.Stems[0].Gain.SetText("-1 dB"));
        desk.Select(TapPlace.OfStem(0));
        Assert.Null(desk.Chain.Processors[1].Parameter("thresholdDb")!.SetText("0 dB"));
        Assert.True(desk.Lanes.IsStale);

        // The device runs while the song stands still, and the new threshold is there before it begins.
        album.Run(desk, 0.1);
        desk.Transport.Play();
        album.Run(desk, 0.8);
        int column = (int)(0.5 / desk.Lanes.Lanes.ColumnSeconds);
        Assert.NotNull(desk.Lanes.TakeChanged());
        Assert.Null(desk.Lanes.TakeChanged());
        Assert.Equal(-14, desk.Lanes.Lanes.Of(TapPlace.OfStem(0))!.OutputPeakDbfs[column], 1);
    }

    [Fact]
    public void AChangeLetsLanesThatAreUnderWayComeAndAtTheEndTheyAreUpToDate()
    {
        using AlbumDesk desk = album.Open();
        using ManualResetEventSlim mayBegin = new();
        WaitForLanes(desk);
        desk.ShowSong(1);
        desk.Jobs.Start("hold", "holding the thread", (_, cancellation) => mayBegin.Wait(TimeSpan.FromSeconds(60), cancellation), _ => { });
        desk.Update();
        DeskJob underWay = desk.Jobs.Open(LaneModel.JobKind)!;
        desk.Select(TapPlace.OfStem(0));
        for (int step = 1; step <= 5; step++)
        {
            Assert.Null(desk.Chain.Processors[1].Parameter("thresholdDb")!.SetText($"{8 * step - 40} dB"));
            desk.Update();
            Assert.Same(underWay, desk.Jobs.Open(LaneModel.JobKind));
        }

        mayBegin.Set();
        WaitForLanes(desk);
        int column = (int)(1.8 / desk.Lanes.Lanes.ColumnSeconds);
        Assert.Equal(-14, desk.Lanes.Lanes.Of(TapPlace.OfStem(0))!.OutputPeakDbfs[column], 1);
    }

    [Fact]
    public void LanesUnderWayOfAnotherSongDoNotKeepThisOneWaiting()
    {
        using AlbumDesk desk = album.Open();
        using ManualResetEventSlim mayBegin = new();
        desk.Jobs.Start("hold", "holding the thread", (_, cancellation) => mayBegin.Wait(TimeSpan.FromSeconds(60), cancellation), _ => { });
        desk.Update();
        DeskJob first = desk.Jobs.Open(LaneModel.JobKind)!;
        desk.ShowSong(1);
        desk.Update();
        Assert.NotSame(first, desk.Jobs.Open(LaneModel.JobKind));
        mayBegin.Set();
        WaitForLanes(desk);
        Assert.Equal(JobState.Cancelled, first.State);
    }

    [Fact]
    public void LanesGoWithTheirStemsWhenOneIsTakenOutAndBroughtBack()
    {
        using AlbumDesk desk = album.Open();
        WaitForLanes(desk);
        LaneSet before = desk.Lanes.Lanes;
        Stem bass = desk.Song.Stems[0];
        Assert.Null(desk.EditSong(song => song with { Stems = song.Stems.RemoveAt(0) }));
        Assert.Equal(["Lead voice", "Lead voice, Under", "song bus"], desk.Lanes.Lanes.Lanes.Select(lane => lane.Name));
        Assert.Same(before.Of(TapPlace.OfStem(1))!.OutputPeakDbfs, desk.Lanes.Lanes.Of(TapPlace.OfStem(0))!.OutputPeakDbfs);
        Assert.Same(before.Of(new TapPlace(1, 0, null))!.OutputPeakDbfs, desk.Lanes.Lanes.Of(new TapPlace(0, 0, null))!.OutputPeakDbfs);
        Assert.Same(before.Of(TapPlace.Bus)!.OutputPeakDbfs, desk.Lanes.Lanes.Of(TapPlace.Bus)!.OutputPeakDbfs);

        // What is brought back has no lane before it has been listened to.
        Assert.Null(desk.EditSong(song => song with { Stems = song.Stems.Insert(0, bass) }));
        Assert.Null(desk.Lanes.Lanes.Of(TapPlace.OfStem(0)));
        Assert.Same(before.Of(TapPlace.OfStem(1))!.OutputPeakDbfs, desk.Lanes.Lanes.Of(TapPlace.OfStem(1))!.OutputPeakDbfs);
        WaitForLanes(desk);
        Assert.Equal(4, desk.Lanes.Lanes.Lanes.Count);
    }

    [Fact]
    public void LanesGoWithStemsAndParallelsThatStandElsewhereOrAreCalledOtherwise()
    {
        using AlbumDesk desk = album.Open();
        WaitForLanes(desk);
        LaneSet before = desk.Lanes.Lanes;
        Assert.Null(desk.Stems[0].Gain.SetText("-1 dB"));
        Assert.Same(before, desk.Lanes.Lanes);
        Assert.Null(desk.EditSong(song => song with { Stems = [song.Stems[1] with { Parallels = [TestSong.ParallelPath(false, -9) with { Name = "Wide" }, .. song.Stems[1].Parallels] }, song.Stems[0]] }));
        Assert.Same(before.Of(TapPlace.OfStem(0))!.OutputPeakDbfs, desk.Lanes.Lanes.Of(TapPlace.OfStem(1))!.OutputPeakDbfs);
        Assert.Null(desk.Lanes.Lanes.Of(new TapPlace(0, 0, null)));
        Assert.Same(before.Of(new TapPlace(1, 0, null))!.OutputPeakDbfs, desk.Lanes.Lanes.Of(new TapPlace(0, 1, null))!.OutputPeakDbfs);
        Assert.Null(desk.Stems[1].Rename("Low end"));
        Assert.Equal("Low end", desk.Lanes.Lanes.Of(TapPlace.OfStem(1))!.Name);
    }

    [Fact]
    public void LanesThatComeAfterAStemWasTakenOutGoWithTheirStems()
    {
        using AlbumDesk desk = album.Open();
        using ManualResetEventSlim mayBegin = new();
        desk.Jobs.Start("hold", "holding the thread", (_, cancellation) => mayBegin.Wait(TimeSpan.FromSeconds(60), cancellation), _ => { });
        desk.Update();
        DeskJob underWay = desk.Jobs.Open(LaneModel.JobKind)!;
        Assert.Null(desk.EditSong(song => song with { Stems = song.Stems.RemoveAt(0) }));
        mayBegin.Set();
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                desk.Update();
                return !underWay.IsOpen;
            },
            TimeSpan.FromSeconds(60)));
        Assert.Equal(["Lead voice", "Lead voice, Under", "song bus"], desk.Lanes.Lanes.Lanes.Select(lane => lane.Name));
        Assert.Equal([0, 0, -1], desk.Lanes.Lanes.Lanes.Select(lane => lane.Place.Stem));
    }

    [Fact]
    public void ASongOfTheHighestRateIsLookedOver()
    {
        SongOverview overview = OverviewRenderer.Run(
            album.OnDisk().Songs[0] with { SampleRate = 384_000 }, album.Folder, BuiltInProcessors.Catalogue, null, CancellationToken.None);
        Assert.Equal(0.2, overview.Paths[0].InputPeak[(int)(1.8 / overview.ColumnSeconds)], 0.002);
    }

    private static void WaitForLanes(AlbumDesk desk) => Assert.True(SpinWait.SpinUntil(
        () =>
        {
            desk.Update();
            return !desk.Lanes.IsStale && desk.Lanes.Lanes.Lanes.Count > 0;
        },
        TimeSpan.FromSeconds(60)));
}
