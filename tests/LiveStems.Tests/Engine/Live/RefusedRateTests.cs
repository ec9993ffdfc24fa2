using System.Runtime.InteropServices;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public class RefusedRateTests
{
    [Theory]
    [InlineData(44_100)]
    [InlineData(96_000)]
    public void SongWhoseRateTheDeviceRefusesIsHeardAtItsPitchAndSpeed(int songRate)
    {
        using TestSong song = new();
        float[] tone = TestSignals.Sine(6 * songRate, ClickMeter.ToneHz, songRate, 0.2);
        song.AddStem("a", tone, tone, sampleRate: songRate);
        ManualDevice device = new(48_000, 256);
        using DeviceKeeper keeper = new(null, new DeviceSettings(songRate, 256), new Refusing(device), TimeProvider.System);
        using LivePlayer player = new(keeper, BuiltInProcessors.Catalogue);
        player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        player.Show(song.Song, song.Folder);
        device.Run(4800);
        player.Play();
        for (int i = 0; i < 200; i++)
        {
            device.Run(480);
            player.Update();
            Thread.Sleep(1);
        }

        Assert.Equal(songRate, player.SampleRate);
        Assert.Equal(48_000, keeper.DeviceSampleRate);

        // Two seconds of the device are two seconds of the song, but for what the converter has taken ahead.
        Assert.Equal(2, player.Look().PositionSeconds, 0.01);
        Span<float> heard = CollectionsMarshal.AsSpan(device.Left)[20_000..];
        Assert.Equal(0.2, heard.ToArray().Max(), 1e-3);
        double cos = 2 * Math.Cos(2 * Math.PI * ClickMeter.ToneHz / 48_000);
        for (int i = 2; i < heard.Length; i++)
        {
            Assert.Equal(cos * heard[i - 1] - heard[i - 2], heard[i], 1e-5f);
        }

        Assert.Equal(0, device.AllocatedBytes);
    }

    private sealed class Refusing(IAudioDevice device) : IDeviceSource
    {
        public DeviceList List(bool isAskedAnew) => new([], null);

        public OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics) => new(device, null, "as asked");

        public IAudioDevice? Reopen(DeviceDescription description, DeviceSettings settings, AudioStatistics statistics) => null;
    }
}
