using LiveStems.Tests.Albums;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class SettingsFileTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    private SettingsFile Settings => new(folder.At("config"));

    [Fact]
    public void TheWindowComesBackWhereItWas()
    {
        WindowState state = new(10, 20, 1600, 1000, true, 150, DeskShade.Light);
        Assert.True(Settings.Change(settings => settings with { Window = state, FullScaleDbA = 98.5 }));
        Assert.Equal(state, Settings.Load().Window);
        Assert.Equal(98.5, Settings.Load().FullScaleDbA);
    }

    [Fact]
    public void EverythingComesBackAsItWasWritten()
    {
        DeskSettings settings = new()
        {
            Window = new WindowState(null, -20, 1600, 1000, false, 0, DeskShade.Light),
            Recent = [new RecentAlbum("/tmp/Møle", "Slack \"Water\" Letters", DateTimeOffset.Parse("2026-03-01T10:11:12.3456789+01:00", System.Globalization.CultureInfo.InvariantCulture))],
            Device = "Desk, left",
            BufferFrames = 128,
            FullScaleDbA = null,
        };
        Assert.True(Settings.Change(_ => settings));
        DeskSettings read = Settings.Load();
        Assert.Equal(settings.Recent, read.Recent);
        Assert.Equal(settings with { Recent = read.Recent }, read);
    }

    [Fact]
    public void AFileOfAnEarlierBuildIsRead()
    {
        Directory.CreateDirectory(folder.At("config"));
        File.WriteAllText(folder.At("config/settings.json"), """
            {
              "window": { "x": null, "y": 3, "width": 1500, "height": 900, "isMaximised": true, "scalePercent": 125, "shade": "light" },
              "recent": [ { "folder": "/a", "title": "A", "openedAt": "2026-01-02T03:04:05+00:00" } ],
              "device": null, "bufferFrames": 512, "fullScaleDbA": 98.25, "later": { "more": [1, 2] }
            }
            """);
        DeskSettings settings = Settings.Load();
        Assert.Equal(new WindowState(null, 3, 1500, 900, true, 125, DeskShade.Light), settings.Window);
        Assert.Equal("A", Assert.Single(settings.Recent).Title);
        Assert.Equal((null, 512, 98.25), (settings.Device, settings.BufferFrames, settings.FullScaleDbA));
    }

    [Fact]
    public void RecentAlbumsStandInOrderWithoutDoubles()
    {
        DateTimeOffset now = DateTimeOffset.UtcNow;
        Settings.Remember(folder.At("a"), "A", now);
        Settings.Remember(folder.At("b"), "B", now);
        Settings.Remember(folder.At("a"), "A", now);
        Assert.Equal(["A", "B"], Settings.Load().Recent.Select(album => album.Title));
        for (int i = 0; i < 30; i++)
        {
            Settings.Remember(folder.At($"x{i}"), $"{i}", now);
        }

        Assert.Equal(20, Settings.Load().Recent.Count);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("[]")]
    [InlineData("null")]
    [InlineData("{\"window\":null,\"recent\":null}")]
    [InlineData("{\"window\":{\"width\":-5,\"height\":1e9}}")]
    [InlineData("{\"window\":[],\"recent\":{}}")]
    [InlineData("{\"recent\":[null,{},{\"folder\":3}]}")]
    [InlineData("{\"bufferFrames\":null,\"device\":1}")]
    [InlineData("{\"bufferFrames\":0,\"fullScaleDbA\":1e300}")]
    public void AnyFileLetsTheProgramStart(string text)
    {
        Directory.CreateDirectory(folder.At("config"));
        File.WriteAllText(folder.At("config/settings.json"), text);
        DeskSettings settings = Settings.Load();
        Assert.InRange(settings.Window.Width, 320, 16_384);
        Assert.InRange(settings.BufferFrames, 32, 4096);
        Assert.True(settings.FullScaleDbA is null or <= 180);
        Assert.True(Settings.Change(each => each));
    }
}
