using LiveStems.Engine.Devices.PortAudio;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class RateFallbackTests
{
    // paInvalidSampleRate and paDeviceUnavailable of portaudio.h.
    private const int InvalidSampleRate = -9997;
    private const int DeviceUnavailable = -9985;

    private readonly List<int> tried = [];

    [Fact]
    public void TheWantedRateIsTakenWhereTheDeviceAllowsIt()
    {
        Assert.Equal(0, Open(_ => 0));
        Assert.Equal([96_000], tried);
    }

    [Fact]
    public void ARefusedRateGivesWayToTheDevicesOwn()
    {
        Assert.Equal(0, Open(rate => rate == 96_000 ? InvalidSampleRate : 0));
        Assert.Equal([96_000, 48_000], tried);
    }

    [Fact]
    public void ADeviceThatRefusesBothRatesIsRefused()
    {
        Assert.Equal(InvalidSampleRate, Open(_ => InvalidSampleRate));
        Assert.Equal([96_000, 48_000], tried);
    }

    [Fact]
    public void ABusyDeviceIsNotTriedTwice()
    {
        Assert.Equal(DeviceUnavailable, Open(_ => DeviceUnavailable));
        Assert.Equal([96_000], tried);
    }

    private int Open(Func<int, int> errorOf)
    {
        int error = RateFallback.Open(96_000, 48_000, Try, out nint stream);
        Assert.Equal(error == 0 ? tried[^1] : 0, stream);
        return error;

        int Try(int rate, out nint opened)
        {
            tried.Add(rate);
            opened = errorOf(rate) == 0 ? rate : 0;
            return errorOf(rate);
        }
    }
}
