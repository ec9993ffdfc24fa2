using LiveStems.Engine.Monitor;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class ExposureTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void NothingIsSaidBeforeTheLevelIsCalibrated()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.5);
        Assert.Null(desk.Exposure.LevelDbA);
        Assert.Null(desk.Exposure.DayPercent);
        Assert.NotNull(desk.Exposure.Calibrate(75));
        Assert.False(desk.Exposure.IsCalibrated);
    }

    [Fact]
    public void CalibratedWithPinkNoiseItReadsTheMetersLevelAndFollowsTheMonitor()
    {
        using AlbumDesk desk = album.Open();
        desk.Monitor.ToggleDim();
        desk.Monitor.ToggleSignal(MonitorSignal.PinkNoise);
        album.Run(desk, 1);
        Settle(desk);
        Assert.Null(desk.Exposure.Calibrate(79));
        Assert.Equal(79, desk.Exposure.LevelDbA!.Value, 1e-6);
        desk.Monitor.ChangeLevel(-10);
        album.Run(desk, 1);
        Settle(desk);

        // Pink noise scatters from frame to frame: of 4096 samples some 0.5 dB.
        Assert.Equal(69, desk.Exposure.LevelDbA!.Value, 2.5);
        Assert.True(desk.Exposure.DayPercent > 0);
        Assert.True(desk.Exposure.WeekPercent > 0);
        Assert.True(desk.Exposure.HoursLeftToday > 8);
    }

    [Theory]
    [InlineData("79")]
    [InlineData("79 dB")]
    [InlineData(" 79dB(a) ")]
    public void TheReadingIsTypedWithOrWithoutItsUnit(string text)
    {
        using AlbumDesk desk = album.Open();
        desk.Monitor.ToggleDim();
        desk.Monitor.ToggleSignal(MonitorSignal.PinkNoise);
        album.Run(desk, 1);
        Settle(desk);
        Assert.Null(desk.Exposure.Reading.SetText(text));
        Assert.Equal(79, desk.Exposure.Reading.Value, 1e-6);
    }

    [Theory]
    [InlineData("20 dB")]
    [InlineData("111 dB(A)")]
    [InlineData("79 dB dB(A)")]
    [InlineData("loud")]
    [InlineData("")]
    public void WhatIsNoReadingIsRefusedInOneLineThatSaysWhatWouldBe(string text)
    {
        using AlbumDesk desk = album.Open();
        desk.Monitor.ToggleSignal(MonitorSignal.PinkNoise);
        album.Run(desk, 1);
        Settle(desk);
        string fault = desk.Exposure.Reading.SetText(text)!;
        Assert.Contains("40 dB(A) to 110 dB(A)", fault, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault);
        Assert.False(desk.Exposure.IsCalibrated);
    }

    [Fact]
    public void AnotherAlbumIsHeardByTheSameEars()
    {
        ExposureModel before;
        using (AlbumDesk desk = album.Open())
        {
            desk.Monitor.ToggleDim();
            desk.Monitor.ToggleSignal(MonitorSignal.PinkNoise);
            album.Run(desk, 1);
            Settle(desk);
            Assert.Null(desk.Exposure.Calibrate(100));
            before = desk.Exposure;
        }

        using DeskAlbum second = new();
        using AlbumDesk next = second.Open();
        next.Exposure.GoOnFrom(before);
        Assert.Equal(before.FullScaleDbA, next.Exposure.FullScaleDbA);
        Assert.Equal(before.Since, next.Exposure.Since);
        // What this one plays is silence.
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                next.Update();
                return next.Exposure.PascalSquaredHours > 0;
            },
            TimeSpan.FromSeconds(30)));
        Assert.Equal(before.PascalSquaredHours!.Value, next.Exposure.PascalSquaredHours!.Value, before.PascalSquaredHours.Value * 1e-9);
        next.Exposure.Clear();
        Assert.True(next.Exposure.Since > before.Since);
    }

    // The analysis runs on its own thread: it is given the time to take everything in.
    private static void Settle(AlbumDesk desk)
    {
        Assert.True(SpinWait.SpinUntil(() => desk.Player.Taps.Heard.Available == 0, TimeSpan.FromSeconds(30)));
        desk.Update();
    }
}
