using LiveStems.Engine.Devices;
using LiveStems.Tests.Engine.Devices;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class DevicesTests : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    private readonly DeskAlbum album = new();
    private readonly ListedDevices system = new();
    private readonly DeviceKeeper keeper;

    public DevicesTests() => keeper = new DeviceKeeper(null, new DeviceSettings(DeskAlbum.SampleRate, 256), system, TimeProvider.System);

    public void Dispose()
    {
        keeper.Dispose();
        album.Dispose();
    }

    [Fact]
    public void AChosenDevicePlaysOnIsToldAndKept()
    {
        using AlbumDesk desk = album.OpenOn(keeper);
        List<(string?, bool, int)> kept = [];
        desk.Devices.Kept = (choice, isChosen, frames) => kept.Add((choice, isChosen, frames));
        desk.Devices.Look();
        Wait(desk, () => desk.Devices.List is not null);
        Assert.Equal(["Front desk", "Headphones"], desk.Devices.List!.Devices.Select(device => device.Name));
        Assert.Null(desk.Devices.Choice);

        desk.Transport.Play();
        Assert.Null(desk.Devices.Choose("Headphones (ALSA)"));
        Assert.True(desk.Devices.IsChanging);
        Wait(desk, () => !desk.Devices.IsChanging);
        Assert.Equal(ListedDevices.Headphones, desk.Devices.Playing);
        Assert.Equal(("Headphones (ALSA)", true, 256), Assert.Single(kept));
        Assert.Equal(keeper.Message, desk.Messages[^1].Text);
        Assert.StartsWith("Headphones (ALSA): 44100 Hz, 256 frames, latency", desk.Devices.Words, StringComparison.Ordinal);
        // The music goes on in the other device.
        Assert.True(desk.Transport.IsPlaying);
        for (int i = 0; i < 60; i++)
        {
            system.Latest.Ask();
            desk.Update();
        }

        Wait(desk, () => desk.Transport.PositionSeconds > 0.1);
    }

    [Fact]
    public void TheBufferIsChosenWithinItsRange()
    {
        using AlbumDesk desk = album.OpenOn(keeper);
        Assert.Null(desk.Devices.SetBuffer(512));
        Wait(desk, () => !desk.Devices.IsChanging);
        Assert.Equal(512, desk.Devices.BufferFrames);
        Assert.Contains("32 to 4096", desk.Devices.SetBuffer(8), StringComparison.Ordinal);
        Assert.Equal(512, desk.Devices.BufferFrames);
    }

    [Fact]
    public void WhatStoodInAtTheStartIsNotKeptAndTheDeviceThatWasWantedIsAskedForAgain()
    {
        using DeviceKeeper standIn = new(AudioDevices.Silent, new DeviceSettings(DeskAlbum.SampleRate, 256), system, TimeProvider.System);
        using AlbumDesk desk = album.OpenOn(standIn);
        desk.Devices.Miss("Headphones (ALSA)");
        List<(string?, bool, int)> kept = [];
        desk.Devices.Kept = (choice, isChosen, frames) => kept.Add((choice, isChosen, frames));
        Assert.Null(desk.Devices.SetBuffer(512));
        Wait(desk, () => !desk.Devices.IsChanging);
        Assert.Equal(ListedDevices.Headphones, desk.Devices.Playing);
        Assert.Equal(("Headphones (ALSA)", false, 512), Assert.Single(kept));
    }

    [Fact]
    public void OfSeveralWishesTheLastOneCounts()
    {
        using AlbumDesk desk = album.OpenOn(keeper);
        desk.Devices.Choose("Headphones");
        desk.Update();
        desk.Devices.Choose("Front desk");
        desk.Devices.Choose(AudioDevices.Silent);
        Wait(desk, () => !desk.Devices.IsChanging);
        Assert.Null(desk.Devices.Playing);
        Assert.Equal(AudioDevices.Silent, desk.Devices.Choice);
        Assert.Equal(1, system.MostOpen);
    }

    [Fact]
    public void ADeviceThatDoesNotOpenIsToldAndNotKept()
    {
        using AlbumDesk desk = album.OpenOn(keeper);
        bool isKept = false;
        desk.Devices.Kept = (_, _, _) => isKept = true;
        system.Break("Headphones");
        Assert.Null(desk.Devices.Choose("Headphones"));
        Wait(desk, () => !desk.Devices.IsChanging);
        Assert.False(isKept);
        Assert.Equal(MessageKind.Trouble, desk.Messages[^1].Kind);
        Assert.EndsWith("going on with Front desk (ALSA)", desk.Messages[^1].Text, StringComparison.Ordinal);
        Assert.Null(desk.Devices.Choice);
    }

    [Fact]
    public void ThatTheDeviceHasGoneStaysInSight()
    {
        using AlbumDesk desk = album.OpenOn(keeper);
        DeskStates states = new(desk);
        Wait(desk, () => !desk.Devices.IsLost);
        Assert.DoesNotContain(states.Warnings, each => each.Words.Contains("device", StringComparison.Ordinal));
        system.Latest.IsAlive = false;
        Wait(desk, () => desk.Devices.IsLost);
        Assert.Equal("the sound device has gone", states.Warnings.First().Words);
    }

    [Fact]
    public void WhatHasBeenConnectedSinceIsLookedFor()
    {
        using AlbumDesk desk = album.OpenOn(keeper);
        int asked = system.Asked;
        Assert.Null(desk.Devices.LookAgain());
        Wait(desk, () => !desk.Devices.IsChanging && desk.Devices.List is not null);
        Assert.Equal(asked + 1, system.Asked);
        Assert.Equal(ListedDevices.FrontDesk, desk.Devices.Playing);
    }

    [Fact]
    public void ADeviceThatWasGivenIsNotChosenAnew()
    {
        using AlbumDesk desk = album.Open();
        Assert.False(desk.Devices.CanChoose);
        Assert.NotNull(desk.Devices.Choose("Headphones"));
        using DeskAlbum second = new();
        using AlbumDesk other = second.OpenOn(keeper);
        other.Devices.IsFixed = true;
        Assert.NotNull(other.Devices.Choose("Headphones"));
    }

    private static void Wait(AlbumDesk desk, Func<bool> holds) => Assert.True(SpinWait.SpinUntil(
        () =>
        {
            desk.Update();
            Thread.Sleep(2);
            return holds();
        },
        Patience));
}
