using LiveStems.Albums.Model;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class TargetsTests : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void TargetsOfTheAlbumAreTypedWithUnitsAndHoldForItsSongs()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(Field(desk, "Album loudness").SetText("-11 LUFS"));
        Assert.Null(Field(desk, "Album ceiling").SetText("−0.5 dBTP"));
        Assert.Null(Field(desk, "Album PLR ≥").SetText("9"));
        Assert.Equal(new DeliveryTargets(-11, -0.5) { LeastPeakToLoudnessLu = 9 }, desk.Album.Targets);
        Assert.Equal("−11 LUFS", Field(desk, "Song loudness").Text);
        Assert.False(desk.Targets.AreOwn);
        Assert.Contains("peak-to-loudness", desk.UndoWords, StringComparison.Ordinal);
        desk.Undo();
        Assert.Null(desk.Album.Targets.LeastPeakToLoudnessLu);
    }

    [Fact]
    public void ATargetOfTheSongIsItsOwnFromThenOnUntilItIsTheAlbumsAgain()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(Field(desk, "Song loudness").SetText("-9.5"));
        Assert.True(desk.Targets.AreOwn);
        Assert.Equal(-9.5, desk.Targets.OfSong.IntegratedLufs);
        Assert.Equal(-14, desk.Album.Targets.IntegratedLufs);
        Assert.Null(desk.Album.Songs[1].Targets);
        Assert.Null(Field(desk, "Song loudness").Reset());
        Assert.Equal(-14, desk.Targets.OfSong.IntegratedLufs);
        Assert.Null(desk.Targets.ToggleOwn());
        Assert.Null(desk.Song.Targets);
        Assert.Null(desk.Targets.ToggleOwn());
        Assert.Equal(desk.Album.Targets, desk.Song.Targets);
    }

    [Fact]
    public void WhatMayBeAbsentIsWrittenAsNone()
    {
        using AlbumDesk desk = album.Open();
        ValueField ratio = Field(desk, "Album PLR ≥");
        Assert.Equal("none", ratio.Text);
        Assert.True(ratio.IsDefault);
        Assert.Null(ratio.Step(1));
        Assert.Equal("8 LU", ratio.Text);
        Assert.Null(ratio.Drag(ratio.Spec.ToTravel(12)));
        Assert.Equal("12 LU", ratio.Text);
        Assert.Null(ratio.Reset());
        Assert.Null(desk.Album.Targets.LeastPeakToLoudnessLu);
        Assert.Null(Field(desk, "Album loudness").SetText("None"));
        Assert.Null(desk.Album.Targets.IntegratedLufs);
        Assert.EndsWith(", or none", ratio.RangeText, StringComparison.Ordinal);
        Assert.EndsWith(", or none", ratio.SetText("2 LU"), StringComparison.Ordinal);
        // A ceiling there must be.
        Assert.NotNull(Field(desk, "Album ceiling").SetText("none"));
    }

    [Fact]
    public void ADragIsUndoneAsOne()
    {
        using AlbumDesk desk = album.Open();
        ValueField loudness = Field(desk, "Song loudness");
        loudness.Drag(0.4);
        loudness.Drag(0.5);
        loudness.Drag(0.6);
        desk.EndGesture();
        desk.Undo();
        Assert.Null(desk.Song.Targets);
    }

    [Fact]
    public void AllLimitersAreSetInOneStep()
    {
        using AlbumDesk desk = album.Open();
        Field(desk, "Song loudness").SetText("-20");
        desk.Targets.MeetAll();
        Wait(desk, () => desk.UndoWords == "limiters of all songs to their targets");
        double[] gains = [.. desk.Album.Songs.Select(song => song.Bus.Slots[^1].Parameters.GetValueOrDefault("inputGainDb", double.NaN))];
        Assert.All(gains, gain => Assert.True(double.IsFinite(gain)));
        Assert.True(gains[0] < gains[1]);
        desk.Undo();
        Assert.DoesNotContain(desk.Album.Songs, song => song.Bus.Slots[^1].Parameters.ContainsKey("inputGainDb"));
    }

    [Fact]
    public void WhereTheLimiterWouldHaveToTakeMoreNothingIsSet()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(Field(desk, "Song loudness").SetText("-6"));
        Assert.Null(desk.Targets.MostReduction.SetText("0.5 dB"));
        string? before = desk.UndoWords;
        DeskJob job = desk.Work.MeetTarget();
        Wait(desk, () => !job.IsOpen);
        Assert.Equal(JobState.Failed, job.State);
        Assert.Equal(before, desk.UndoWords);
        Assert.Null(desk.Targets.MostReduction.Reset());
        Assert.Null(desk.Targets.MostReductionDb);
    }

    private static ValueField Field(AlbumDesk desk, string name) => desk.Targets.Fields.Single(field => field.Name == name);

    private static void Wait(AlbumDesk desk, Func<bool> holds) => Assert.True(SpinWait.SpinUntil(
        () =>
        {
            desk.Update();
            Thread.Sleep(2);
            return holds();
        },
        Patience));
}
