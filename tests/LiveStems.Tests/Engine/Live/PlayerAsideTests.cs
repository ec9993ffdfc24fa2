using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class PlayerAsideTests : IDisposable
{
    private readonly TestSong files = new();
    private readonly ManualDevice device = new(TestSong.SampleRate, 64);
    private readonly LivePlayer player;
    private readonly List<string> troubles = [];

    public PlayerAsideTests()
    {
        float[] noise = Noise.White(2 * TestSong.SampleRate, 3, 0.1f);
        files.AddStem("Bass", noise, noise, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("equaliser")) });
        player = LivePlayer.Aside(device, BuiltInProcessors.Catalogue);
    }

    public void Dispose()
    {
        player.Dispose();
        files.Dispose();
    }

    [Fact]
    public void WhatItIsAskedForBeforeItStartsIsDoneThen()
    {
        player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        player.Show(files.Song, files.Folder);
        player.Play();
        player.JumpTo(0.5);
        Assert.True(player.Look().IsPlaying);
        Assert.True(player.IsPreparing);
        player.StartAside();
        Assert.True(Until(() => player.Look().PositionSeconds > 0.6));
        Assert.True(player.Look().IsPlaying);
        Assert.Empty(troubles);
    }

    [Fact]
    public void AnotherChainIsCompiledWhileTheSongPlaysOn()
    {
        Begin();
        Song changed = files.Song with { Stems = [files.Song.Stems[0] with { Chain = TestSong.Chain(TestSong.Slot("compressor"), TestSong.Slot("equaliser")) }] };
        double before = player.Look().PositionSeconds;
        player.Show(changed, files.Folder);
        Assert.Same(changed, player.Song);
        Assert.True(Until(() => !player.IsPreparing && player.Running(new TapPlace(0, -1, "compressor")) is not null));
        Assert.True(player.Look().PositionSeconds >= before);
        Assert.True(player.Look().IsPlaying);
    }

    [Fact]
    public void TheLastOfManyWishesCounts()
    {
        Begin();
        for (int i = 0; i < 20; i++)
        {
            int count = i % 4;
            player.Show(files.Song with { Stems = [files.Song.Stems[0] with { Chain = TestSong.Chain([.. Enumerable.Range(0, count).Select(n => TestSong.Slot("equaliser") with { Id = $"equaliser{n}" })]) }] }, files.Folder);
            Run();
        }

        Assert.True(Until(() => !player.IsPreparing && player.Running(new TapPlace(0, -1, "equaliser2")) is not null));
        Assert.Null(player.Running(new TapPlace(0, -1, "equaliser3")));
    }

    [Fact]
    public void AFileThatIsNotThereIsToldAndTheSongPlaysOn()
    {
        Begin();
        Song missing = files.Song with { Title = "Other", Stems = [files.Song.Stems[0] with { File = "nowhere.wav" }] };
        player.Show(missing, files.Folder);
        Assert.True(Until(() => troubles.Exists(line => line.Contains("nowhere.wav", StringComparison.Ordinal))));
        Assert.True(player.Look().IsPlaying);
        Assert.Equal(files.Song.Title, player.Song!.Title);
    }

    [Fact]
    public void ItEndsWhileItPrepares()
    {
        Begin();
        player.Show(files.Song with { Title = "Other", Stems = [files.Song.Stems[0] with { Name = "Again" }] }, files.Folder);
        player.Dispose();
    }

    private void Begin()
    {
        player.StartAside();
        player.Show(files.Song, files.Folder);
        player.Play();
        Assert.True(Until(() => player.Look().PositionSeconds > 0.05));
    }

    private void Run()
    {
        if (device.IsStarted)
        {
            device.Run(64);
        }

        troubles.AddRange(player.Update());
    }

    // Other threads may take their time on a busy machine.
    private bool Until(Func<bool> holds) => SpinWait.SpinUntil(
        () =>
        {
            Run();
            Thread.Sleep(1);
            return holds();
        },
        TimeSpan.FromSeconds(60));
}
