using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

public class NamePatternTests
{
    private static readonly Song Song = new("What? Now", null, null, null, [], Chain.Empty, []) { Isrc = "AA6Q72600001" };

    private static readonly Album Album = new("Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [Song], []);

    [Theory]
    [InlineData("{order} {title}", "03 What- Now")]
    [InlineData("{artist} - {title} {bits} v{delivery}", "The Kelp Ledger - What- Now 16 v7")]
    [InlineData("{ISRC}_{date}_{format}", "AA6Q72600001_2026-03-01_disc")]
    public void FieldsAreFilledInAndMadeSafe(string pattern, string expected) => Assert.Equal(expected, NamePattern.Parse(pattern).Of(After("master")));

    [Fact]
    public void AnAlternateIsToldApartWhetherThePatternSaysSoOrNot()
    {
        Assert.Equal("What- Now (instrumental)", NamePattern.Parse("{title}").Of(After("instrumental")));
        Assert.Equal("instrumental of What- Now", NamePattern.Parse("{version} of {title}").Of(After("instrumental")));
    }

    [Theory]
    [InlineData("{order}/{title}", "'/'")]
    [InlineData("a:b", "':'")]
    [InlineData("{titel}", "no such field")]
    [InlineData("{title", "not closed")]
    [InlineData("title}", "without")]
    [InlineData("", "empty")]
    [InlineData("{title}\t", "U+0009")]
    public void WhatSomeSystemRefusesIsRefusedInOneLine(string pattern, string said)
    {
        string message = Assert.Throws<DeliveryException>(() => NamePattern.Parse(pattern)).Message;
        Assert.Contains(said, message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', message);
    }

    [Fact]
    public void ANameThatIsTooLongForSomeSystemIsRefused() =>
        Assert.Contains("220 bytes", Assert.Throws<DeliveryException>(() => NamePattern.Parse("{title}").Of(After("master") with { Song = Song with { Title = new string('鳥', 100) } })).Message, StringComparison.Ordinal);

    private static NamedAfter After(string version) => new(3, Song, Album, version, DeliveryFormat.Find("disc"), 7, new DateOnly(2026, 3, 1));
}
