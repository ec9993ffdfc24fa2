using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class DeviceChoiceTests
{
    private static readonly DeviceList List = new(
        [
            Device(0, "Front desk", "ALSA", outputs: 2),
            Device(2, "Front desk", "JACK", outputs: 2),
            Device(3, "Intercom", "ALSA", outputs: 1),
            Device(5, "Wide room 7", "ALSA", outputs: 8, isDefault: true),
            Device(6, "Wide room 7 copy", "ALSA", outputs: 2),
        ],
        null);

    [Theory]
    [InlineData("0", 0)]
    [InlineData("5", 5)]
    [InlineData("wide ROOM 7", 5)]
    [InlineData("copy", 6)]
    [InlineData("front desk (jack)", 2)]
    [InlineData("desk jack", 2)]
    [InlineData("7 copy", 6)]
    public void ADeviceIsFoundByNumberNameOrPartOfIt(string choice, int index) =>
        Assert.Equal(index, DeviceChoice.Find(choice, List).Index);

    [Theory]
    [InlineData("4")]
    [InlineData("lighthouse")]
    [InlineData(" ")]
    public void AnUnknownDeviceIsRefusedInOneLineWithTheCure(string choice) => AssertRefused(
        choice,
        List,
        $"no sound device fits '{choice}': choose one that 'livestems devices' lists, or use --device silent");

    [Fact]
    public void SeveralThatFitAreNamed() => AssertRefused(
        "desk",
        List,
        "'desk' fits 2 sound devices: 0 Front desk (ALSA), 2 Front desk (JACK); give the number or more of the name");

    [Fact]
    public void ManyThatFitStayOneShortLine()
    {
        DeviceList many = new([.. Enumerable.Range(0, 9).Select(index => Device(index, $"Desk {index}", "ALSA", 2))], null);
        AssertRefused(
            "desk",
            many,
            "'desk' fits 9 sound devices: 0 Desk 0 (ALSA), 1 Desk 1 (ALSA), 2 Desk 2 (ALSA), 3 Desk 3 (ALSA), 4 Desk 4 (ALSA), "
            + "5 Desk 5 (ALSA) and 3 more; give the number or more of the name");
    }

    [Fact]
    public void ADeviceOfOneChannelIsRefused() => AssertRefused(
        "intercom",
        List,
        "sound device 'Intercom (ALSA)' has one channel only: choose one that 'livestems devices' lists as stereo, or use --device silent");

    [Fact]
    public void WithoutTheLibraryTheChoiceTellsHowToInstallIt() => AssertRefused(
        "desk",
        new DeviceList([], DeviceTexts.MissingLibrary(SystemFamily.MacOS)),
        "sound device 'desk' cannot be used: PortAudio is not installed: brew install portaudio, or use --device silent");

    [Fact]
    public void TheDefaultIsChosenByItself() => Assert.Equal(5, DeviceChoice.Automatic(List.Devices)?.Index);

    [Fact]
    public void WithoutAStereoDefaultTheFirstStereoDeviceIsChosen() => Assert.Equal(
        6,
        DeviceChoice.Automatic([Device(3, "Intercom", "ALSA", 1, isDefault: true), Device(6, "Wide room", "ALSA", 2)])?.Index);

    [Fact]
    public void WithoutDevicesNoneIsChosen() => Assert.Null(DeviceChoice.Automatic([]));

    [Theory]
    [InlineData("silent", true)]
    [InlineData("Silent", true)]
    [InlineData("silence", false)]
    [InlineData(null, false)]
    public void SilentChoosesTheSilentDevice(string? choice, bool expected) => Assert.Equal(expected, DeviceChoice.IsSilent(choice));

    private static DeviceDescription Device(int index, string name, string hostApi, int outputs, bool isDefault = false) =>
        new(index, name, hostApi, outputs, 48_000, 0.01, 0.04, isDefault);

    private static void AssertRefused(string choice, DeviceList list, string message) =>
        Assert.Equal(message, Assert.Throws<AudioDeviceException>(() => DeviceChoice.Find(choice, list)).Message);
}
