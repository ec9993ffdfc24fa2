using LiveStems.View.Controls;
using SkiaSharp;
using Xunit;

namespace LiveStems.Tests.View.Controls;

public class ThemeTests
{
    // WCAG 2.2, success criterion 1.4.3, level AA, text of usual size.
    private const double LeastContrast = 4.5;

    public static TheoryData<bool> Themes => [true, false];

    [Fact]
    public void ContrastIsThatOfTheStandard()
    {
        // WCAG 2.2, definition of contrast ratio: black on white 21:1; #767676 on white is the darkest grey at 4.54:1.
        Assert.Equal(21, Theme.Contrast(SKColors.Black, SKColors.White), 10);
        Assert.Equal(4.54, Theme.Contrast(new SKColor(0x76, 0x76, 0x76), SKColors.White), 2);
    }

    [Theory]
    [MemberData(nameof(Themes))]
    public void EveryTextStandsOutFromItsSurface(bool isDark)
    {
        Theme theme = isDark ? Theme.Dark : Theme.Light;
        Assert.All(Theme.TextPairs, pair =>
        {
            double contrast = Theme.Contrast(theme[pair.Text], theme[pair.Surface]);
            Assert.True(contrast >= LeastContrast, $"{theme.Name}: {pair.Text} on {pair.Surface} has {contrast:0.00}");
        });
    }

    [Theory]
    [MemberData(nameof(Themes))]
    public void WhatHasTheKeyboardIsSeen(bool isDark)
    {
        // WCAG 2.2, success criterion 1.4.11: 3:1 for what shows the state of a control.
        Theme theme = isDark ? Theme.Dark : Theme.Light;
        Tone[] surfaces = [Tone.Ground, Tone.Panel, Tone.Raised, Tone.Lifted, Tone.Well];
        Assert.All(surfaces, surface => Assert.True(Theme.Contrast(theme[Tone.Focus], theme[surface]) >= 3, $"{theme.Name}: {surface}"));
    }
}
