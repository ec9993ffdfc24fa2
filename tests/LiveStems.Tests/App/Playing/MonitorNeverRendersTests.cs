using System.Reflection;
using LiveStems.Engine.Monitor;
using LiveStems.Tests.App.Verbs;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.App.Playing;

/// <summary>What is listened to, and how, never reaches a file: masters with every switch on are those with none, to the byte.</summary>
public sealed class MonitorNeverRendersTests
{
    private static readonly MonitorSettings EverySwitch = new()
    {
        LevelDb = -7,
        IsDimmed = false,
        DimDb = -30,
        Channels = MonitorChannels.Side,
        IsSwapped = true,
        FairGainDb = -3,
        BandListen = true,
        BandCentreHz = 900,
        BandWidthOctaves = 0.5,
        BandSlopeDbPerOctave = 24,
        SafetyCeilingDbfs = -20,
        Signal = MonitorSignal.PinkNoise,
    };

    [Fact]
    public void EverySettingOfTheMonitorIsOnInTheseTests()
    {
        foreach (PropertyInfo property in typeof(MonitorSettings).GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            Assert.NotEqual(property.GetValue(MonitorSettings.AtStart), property.GetValue(EverySwitch));
        }
    }

    [Fact]
    public void MasterBesideThePlayerWithEverySwitchOnIsTheSameBytes()
    {
        using PlayedAlbum played = new(256);
        byte[] plain = Render(played.Folder, "plain");
        float[] dry = Master(played, 0.2);

        // Solo and mute of the listening, test tone and noise, dim, level, ceiling, mono, side, swap, band.
        foreach (string keys in new[] { "sud-<f", "hy", "ht", "t", "bA" })
        {
            foreach (char key in keys)
            {
                played.Press(key);
            }

            played.Run(0.1);
            Assert.Equal(plain, Render(played.Folder, "listened"));
        }

        Assert.Equal(MonitorSignal.PinkNoise, played.Controls.Monitor.Settings.Signal);
        Assert.NotEmpty(dry);
    }

    [Fact]
    public void MasterThatIsHeardDoesNotDependOnTheMonitor()
    {
        using PlayedAlbum plain = new(256);
        using PlayedAlbum listened = new(256);
        listened.Player.SetMonitor(EverySwitch);
        Assert.Equal(Master(plain, 1), Master(listened, 1));
        Assert.NotEqual(plain.Device.Left, listened.Device.Left);
    }

    [Fact]
    public void MasterOfTheWindowsAlbumIsTheSameBytes()
    {
        using DeskAlbum album = new();
        byte[] plain = Render(album.Folder, "plain");
        using (AlbumDesk desk = album.Open())
        {
            album.Run(desk, 0.1);
            desk.Transport.Play();
            desk.Monitor.Change(_ => EverySwitch);
            desk.ToggleSolo(1);
            album.Run(desk, 0.3);
            desk.Save();
        }

        Assert.Equal(plain, Render(album.Folder, "listened"));
    }

    // What the player's meters and views get of the song, before the monitor.
    private static float[] Master(PlayedAlbum played, double seconds)
    {
        float[] left = new float[PlayedAlbum.SampleRate];
        float[] right = new float[PlayedAlbum.SampleRate];
        List<float> master = [];
        while (played.Player.Taps.Master.Take(left, right) > 0)
        {
            // What has gathered so far.
        }

        for (double done = 0; done < seconds; done += 0.1)
        {
            played.Run(0.1);
            master.AddRange(left.Take(played.Player.Taps.Master.Take(left, right)));
        }

        return [.. master];
    }

    private static byte[] Render(string album, string folder)
    {
        string masters = Path.Combine(album, folder);
        CommandLine.Result result = CommandLine.Run("render", album, "--song", "1", "--out", masters, "--replace");
        Assert.Equal((0, string.Empty), (result.ExitCode, result.Errors));
        return File.ReadAllBytes(Assert.Single(Directory.GetFiles(masters, "*.wav")));
    }
}
