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
