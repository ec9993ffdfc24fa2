using LiveStems.Engine.Live;
using LiveStems.Tests.View.Controls;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class StatusStatesTests
{
    private static readonly FixedRuler Ruler = new();

    private static readonly StateWords[] Warnings = [new("safety limiter −4.9 dB", "safety −4.9")];

    private static readonly StateWords[] Choices = [new("mono", "mono"), new("swapped", "swap")];

    private static readonly string[] Devices = ["Headphones · 48 kHz · load 12 %", "load 12 %", ""];

    [Theory]
    [InlineData(90, "safety limiter −4.9 dB · mono · swapped · Headphones · 48 kHz · load 12 %")]
    [InlineData(60, "safety limiter −4.9 dB · mono · swapped · load 12 %")]
    [InlineData(45, "safety limiter −4.9 dB · mono · swapped")]
    [InlineData(30, "safety −4.9 · mono · swap")]
    [InlineData(3, "safety −4.9 · mono · swap")]
    public void TheDeviceGivesWayBeforeWhatIsNotAsUsualDoes(int characters, string expected)
    {
        StatusStates fitting = StatusStates.Fit(Warnings, Choices, Devices, Ruler, characters * FixedRuler.CharacterUnits);
        Assert.Equal(expected, fitting.Warnings + fitting.Choices + fitting.Device);
        Assert.Equal(expected.Length * FixedRuler.CharacterUnits, fitting.Width(Ruler));
    }

    [Fact]
    public void WhereNothingIsUnusualTheDeviceStandsAlone()
    {
        Assert.Equal(new StatusStates(string.Empty, string.Empty, Devices[0]), StatusStates.Fit([], [], Devices, Ruler, 1000));
        Assert.Equal(new StatusStates(string.Empty, "mono", string.Empty), StatusStates.Fit([], Choices[..1], Devices, Ruler, 40));
    }
}
