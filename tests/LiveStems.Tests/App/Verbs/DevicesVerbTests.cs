using System.Text.Json.Nodes;
using LiveStems.App.Verbs;
using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

public class DevicesVerbTests
{
    private static readonly DeviceList Two = new(
        [new DeviceDescription(0, "Front desk", "ALSA", 2, 48_000, 0.01, 0.04, true), new DeviceDescription(3, "Intercom", "ALSA", 1, 44_100, 0.01, 0.04, false)],
        null);

    private static readonly DeviceList None = new([], "PortAudio is not installed: apt-get install libportaudio2");

    [Fact]
    public void RatesThatADeviceAcceptsAreListed()
    {
        StringWriter output = new();
        DevicesVerb.Write(Two, RatesOf, output);
        string[] lines = output.ToString().Split('\n');
        Assert.Matches(@"Front desk +ALSA +2 +48000 +44\.1 48 88\.2 +10\.0–40\.0 +default", lines[2]);
        Assert.Matches("Intercom .* in use", lines[3]);
        Assert.Matches("silent .* any +any", lines[4]);
        JsonArray json = DevicesVerb.Json(Two, RatesOf);
        Assert.Equal([44_100, 48_000, 88_200], json[0]!["acceptedSampleRatesHz"]!.AsArray().Select(rate => (int)rate!));
        Assert.Null(json[1]!["acceptedSampleRatesHz"]);
        Assert.Equal(["Front desk", "Intercom", "silent"], json.Select(device => (string)device!["name"]!));
        Assert.Equal([true, false, false], json.Select(device => (bool)device!["isDefault"]!));
        Assert.Null(json[2]!["problem"]);
    }

    [Fact]
    public void WithoutASoundLibraryTheSilentDeviceIsListedWithTheCure()
    {
        StringWriter output = new();
        DevicesVerb.Write(None, RatesOf, output);
        Assert.Contains("apt-get install libportaudio2", output.ToString(), StringComparison.Ordinal);
        Assert.Contains("silent", output.ToString(), StringComparison.Ordinal);
        JsonNode silent = Assert.Single(DevicesVerb.Json(None, RatesOf))!;
        Assert.Equal("silent", (string)silent["name"]!);
        Assert.True((bool)silent["isDefault"]!);
        Assert.Equal(None.Problem, (string)silent["problem"]!);
    }

    [Fact]
    public void TheProgramListsTheSilentDeviceInEveryForm()
    {
        CommandLine.Result json = CommandLine.Run("devices", "--json");
        Assert.Equal((0, string.Empty), (json.ExitCode, json.Errors));
        Assert.Equal("silent", (string)JsonNode.Parse(json.Output)!.AsArray()[^1]!["name"]!);
        Assert.Contains("silent", CommandLine.Run("devices").Output, StringComparison.Ordinal);
    }

    private static IReadOnlyList<int>? RatesOf(DeviceDescription device) => device.IsStereo ? [44_100, 48_000, 88_200] : null;
}
