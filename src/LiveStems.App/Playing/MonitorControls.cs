using LiveStems.App.Terminal;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;

namespace LiveStems.App.Playing;

/// <summary>What the keys for the monitor do: what the ears get, never part of a render.</summary>
/// <param name="player">The player.</param>
/// <param name="settings">The settings to begin with; the player has them.</param>
/// <param name="tell">Tells what the status line does not show.</param>
internal sealed class MonitorControls(LivePlayer player, MonitorSettings settings, Action<string> tell)
{
    private const double SixthOfAnOctave = 1.122462048309373;

    /// <summary>The monitor as it is set.</summary>
    public MonitorSettings Settings { get; private set; } = settings;

    /// <summary>Everything turned down, or not.</summary>
    public void ToggleDim() => Change(monitor => monitor with { IsDimmed = !monitor.IsDimmed });

    /// <summary>Turns the monitor up or down.</summary>
    public void ChangeLevel(double decibels) => Change(monitor => monitor with { LevelDb = Math.Clamp(monitor.LevelDb + decibels, MonitorSettings.LowestLevelDb, MonitorSettings.HighestLevelDb) });

    /// <summary>Moves what the safety limiter holds.</summary>
    public void ChangeSafety(double decibels)
    {
        Change(monitor => monitor with { SafetyCeilingDbfs = Math.Clamp(monitor.SafetyCeilingDbfs + decibels, MonitorSettings.LowestSafetyCeilingDbfs, MonitorSettings.HighestSafetyCeilingDbfs) });
        tell($"the safety limiter holds {Numbers.Text(Settings.SafetyCeilingDbfs, 0)} dBFS");
    }

    /// <summary>Stereo, mono, side, and stereo again.</summary>
    public void NextChannels() => Change(monitor => monitor with { Channels = Next(monitor.Channels) });

    /// <summary>Left and right exchanged, or not.</summary>
    public void ToggleSwap() => Change(monitor => monitor with { IsSwapped = !monitor.IsSwapped });

    /// <summary>Music, tone, pink noise, and music again.</summary>
    public void NextSignal() => Change(monitor => monitor with { Signal = Next(monitor.Signal) });

    /// <summary>One band alone, or all.</summary>
    public void ToggleBand() => Change(monitor => monitor with { BandListen = !monitor.BandListen });

    /// <summary>Moves the band.</summary>
    public void MoveBand(int sixths) => Change(monitor => monitor with
    {
        BandListen = true,
        BandCentreHz = Math.Clamp(monitor.BandCentreHz * Math.Pow(SixthOfAnOctave, sixths), MonitorSettings.LowestBandHz, MonitorSettings.HighestBandHz),
    });

    /// <summary>Makes the band wider (above 1) or narrower.</summary>
    public void WidenBand(double factor) => Change(monitor => monitor with
    {
        BandListen = true,
        BandWidthOctaves = Math.Clamp(monitor.BandWidthOctaves * factor, MonitorSettings.NarrowestBandOctaves, MonitorSettings.WidestBandOctaves),
    });

    /// <summary>Edges of the band of 24 or 48 dB/oct.</summary>
    public void ToggleSlope()
    {
        Change(monitor => monitor with { BandSlopeDbPerOctave = monitor.BandSlopeDbPerOctave == 48 ? 24 : 48 });
        tell($"the edges of the band fall by {Settings.BandSlopeDbPerOctave} dB an octave");
    }

    private void Change(Func<MonitorSettings, MonitorSettings> change)
    {
        Settings = change(Settings);
        player.SetMonitor(Settings);
    }

    private static T Next<T>(T value)
        where T : struct, Enum
    {
        T[] all = Enum.GetValues<T>();
        return all[(Array.IndexOf(all, value) + 1) % all.Length];
    }
}
