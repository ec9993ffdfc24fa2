using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public sealed class DeviceChangeTests : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    private readonly ListedDevices source = new();
    private readonly CountingRenderer renderer = new();
    private readonly DeviceKeeper keeper;

    public DeviceChangeTests() => keeper = new DeviceKeeper(null, new DeviceSettings(48_000, 64), source, TimeProvider.System);

    public void Dispose() => keeper.Dispose();

    [Fact]
    public void AnotherDevicePlaysInPlaceOfTheFirstWhichIsClosedBefore()
    {
        keeper.Start(renderer);
        PlayedDevice first = source.Latest;
        keeper.Change(ListedDevices.Headphones.Label, 256);
        Assert.Equal(KeptDeviceState.Changing, keeper.State);
        Settle();
        Assert.Equal(KeptDeviceState.Playing, keeper.State);
        Assert.True(first.IsDisposed);
        Assert.Equal(1, source.MostOpen);
        Assert.Equal(1, source.Asked);
        Assert.True(source.Latest.IsPlaying);
        Assert.Null(keeper.Fault);
        Assert.Equal("Headphones (ALSA)", keeper.Name);
        Assert.Equal("Headphones (ALSA): 44100 Hz, 256 frames, latency 10.0 ms, as asked", keeper.Message);
        Assert.Equal((ListedDevices.Headphones, "Headphones (ALSA)", 256), (keeper.Description, keeper.Choice, keeper.BufferFrames));
        // The player goes on at its own rate, and the sound is converted.
        Assert.Equal((48_000, 44_100), (keeper.SampleRate, keeper.DeviceSampleRate));
        source.Latest.Ask();
        Assert.InRange(renderer.Frames, 256 * 48_000 / 44_100, 1024);
    }

    [Fact]
    public void WhereTheOtherCannotBeHadTheOneBeforeGoesOnAndSaysWhy()
    {
        keeper.Start(renderer);
        source.Break("Headphones");
        keeper.Change("headphones", 256);
        Settle();
        Assert.Equal(KeptDeviceState.Playing, keeper.State);
        Assert.Equal("Front desk (ALSA)", keeper.Name);
        Assert.Null(keeper.Choice);
        Assert.Equal(64, keeper.BufferFrames);
        Assert.Contains("busy or gone", keeper.Fault, StringComparison.Ordinal);
        Assert.EndsWith("going on with Front desk (ALSA)", keeper.Message, StringComparison.Ordinal);
        Assert.True(source.Latest.IsPlaying);
    }

    [Fact]
    public void AnUnknownDeviceIsRefusedInTheWordsOfTheCommands()
    {
        keeper.Start(renderer);
        keeper.Change("attic", 64);
        Settle();
        Assert.Contains("no sound device fits 'attic'", keeper.Fault, StringComparison.Ordinal);
        Assert.True(source.Latest.IsPlaying);
    }

    [Fact]
    public void WhereNeitherCanBeHadItIsWaitedForTheOneBefore()
    {
        keeper.Start(renderer);
        source.Break("Headphones");
        source.Break("Front desk");
        keeper.Change("Headphones", 64);
        Settle();
        Assert.Equal(KeptDeviceState.Lost, keeper.State);
        Assert.EndsWith("waiting for Front desk (ALSA) to come back", keeper.Message, StringComparison.Ordinal);
        // Whoever is in such a place still has the silent one.
        keeper.Change(AudioDevices.Silent, 64);
        Settle();
        Assert.Equal(KeptDeviceState.Playing, keeper.State);
        Assert.Null(keeper.Description);
    }

    [Fact]
    public void StoppedWhileItChangesNothingPlays()
    {
        keeper.Start(renderer);
        keeper.Change("Headphones", 64);
        keeper.Stop();
        Settle();
        Assert.Equal(KeptDeviceState.Ready, keeper.State);
        Assert.False(source.Latest.IsPlaying);
        keeper.Start(renderer);
        Assert.True(source.Latest.IsPlaying);
    }

    [Fact]
    public void ABufferOutOfRangeChangesNothing()
    {
        keeper.Start(renderer);
        Assert.Throws<AudioDeviceException>(() => keeper.Change(null, 16));
        Assert.Equal(KeptDeviceState.Playing, keeper.Update());
        Assert.True(source.Latest.IsPlaying);
    }

    [Fact]
    public void ThrownAwayWhileItChangesItLeavesNoDeviceOpen()
    {
        keeper.Start(renderer);
        keeper.Change("Headphones", 64);
        keeper.Dispose();
        Assert.True(SpinWait.SpinUntil(() => source.Latest.Name == "Headphones (ALSA)" && source.Latest.IsDisposed, Patience));
    }

    private void Settle() => Assert.True(SpinWait.SpinUntil(() => keeper.Update() != KeptDeviceState.Changing, Patience));
}
