using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class DeviceTextsTests
{
    private static readonly DeviceDescription Desk = new(0, "Front desk", "ALSA", 2, 44_100, 0.01, 0.04, true);

    [Fact]
    public void AMissingLibraryIsOneLineWithTheCommandOfEachSystem()
    {
        Assert.Equal(
            "PortAudio is not installed: apt-get install libportaudio2 (Fedora: dnf install portaudio, Arch: pacman -S portaudio)",
            DeviceTexts.MissingLibrary(SystemFamily.Linux));
        Assert.Equal("PortAudio is not installed: brew install portaudio", DeviceTexts.MissingLibrary(SystemFamily.MacOS));
        Assert.Equal(
            "PortAudio is not installed: put portaudio_x64.dll of portaudio.com beside this program",
            DeviceTexts.MissingLibrary(SystemFamily.Windows));
    }

    [Fact]
    public void RefusalsNameTheDeviceTheCauseAndTheCure()
    {
        Assert.Equal(
            "sound device 'Front desk (ALSA)' is busy or gone: close the program that uses it or choose another",
            DeviceTexts.Busy(Desk));
        Assert.Equal(
            "sound device 'Front desk (ALSA)' runs at neither 96000 Hz nor 44100 Hz: choose another device",
            DeviceTexts.RefusedRates(Desk, 96_000));
    }

    [Theory]
    [InlineData(48_000, 31, 0, "a buffer of 31 frames is not possible: choose 32 to 4096")]
    [InlineData(48_000, 4097, 0, "a buffer of 4097 frames is not possible: choose 32 to 4096")]
    [InlineData(4_000, 256, 0, "a sample rate of 4000 Hz is not possible: choose 8000 to 384000 Hz")]
    [InlineData(48_000, 256, 3, "3 s of buffered sound are not possible: choose 0 to 2 s")]
    [InlineData(48_000, 256, double.NaN, "NaN s of buffered sound are not possible: choose 0 to 2 s")]
    public void SettingsOutOfRangeAreRefusedWithTheRange(int rate, int frames, double seconds, string message) =>
        Assert.Equal(message, Assert.Throws<AudioDeviceException>(() => new DeviceSettings(rate, frames, seconds).Check()).Message);
}
