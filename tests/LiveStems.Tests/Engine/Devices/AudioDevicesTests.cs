using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class AudioDevicesTests
{
    [Fact]
    public void WithoutAChoiceSomeDeviceIsAlwaysOpenedAndSaysWhy()
    {
        DeviceList list = AudioDevices.List();
        OpenedDevice opened = AudioDevices.Open(null, new DeviceSettings(48_000));
        using IAudioDevice device = opened.Device;
        Assert.True(device.IsAlive);
        Assert.Contains(opened.Reason, opened.Summary);
        if (list.Problem is { } problem)
        {
            Assert.IsType<SilentDevice>(device);
            Assert.Equal($"because {problem}", opened.Reason);
            Assert.DoesNotContain('\n', problem);
        }
    }

    [Fact]
    public void ADeviceThatIsNotThereIsRefusedInOneLineThatOffersTheSilentOne()
    {
        AudioDeviceException refusal = Assert.Throws<AudioDeviceException>(
            () => AudioDevices.Open("lighthouse horn", new DeviceSettings(48_000)));
        Assert.Contains("lighthouse horn", refusal.Message);
        Assert.EndsWith(", or use --device silent", refusal.Message);
        Assert.DoesNotContain('\n', refusal.Message);
    }
}
