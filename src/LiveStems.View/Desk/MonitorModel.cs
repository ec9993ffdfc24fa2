using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>What the ears get: never part of a render, never undone.</summary>
public sealed class MonitorModel
{
    private readonly LivePlayer player;

    internal MonitorModel(LivePlayer player)
    {
        this.player = player;
        Settings = MonitorSettings.AtStart;
        player.SetMonitor(Settings);
        Fields =
        [
            Field("dimDb", "Dim", -40, -6, Settings.DimDb, "How far dimming turns the monitor down.", () => Settings.DimDb, value => settings => settings with { DimDb = value }),
            Field(
                "safetyCeilingDbfs", "Safety ceiling", MonitorSettings.LowestSafetyCeilingDbfs, MonitorSettings.HighestSafetyCeilingDbfs, Settings.SafetyCeilingDbfs, "The monitor's own limiter holds this peak, whatever happens; it cannot be switched off.",
                () => Settings.SafetyCeilingDbfs, value => settings => settings with { SafetyCeilingDbfs = value }),
        ];
    }

    /// <summary>How far dimming goes, and what the monitor's own limiter holds.</summary>
    public IReadOnlyList<ValueField> Fields { get; }

    /// <summary>The settings as they are.</summary>
    public MonitorSettings Settings { get; private set; }

    /// <summary>True while one band only is heard.</summary>
    public bool BandListen => Settings.BandListen;

    /// <summary>Lower and upper edge of the band in Hz.</summary>
    public (double LowHz, double HighHz) Band
    {
        get
        {
            double half = Math.Pow(2, Settings.BandWidthOctaves / 2);
            return (Settings.BandCentreHz / half, Settings.BandCentreHz * half);
        }
    }

    /// <summary>Changes the settings.</summary>
    public void Change(Func<MonitorSettings, MonitorSettings> change)
    {
        Settings = change(Settings);
        player.SetMonitor(Settings);
    }

    /// <summary>Everything turned down, or not.</summary>
    public void ToggleDim() => Change(settings => settings with { IsDimmed = !settings.IsDimmed });

    /// <summary>Turns the monitor up or down, −60 to 0 dB.</summary>
    public void ChangeLevel(double decibels) => Change(settings => settings with { LevelDb = Math.Clamp(settings.LevelDb + decibels, MonitorSettings.LowestLevelDb, MonitorSettings.HighestLevelDb) });

    /// <summary>Moves what the safety limiter holds, −30 to −1 dBFS; it cannot be switched off.</summary>
    public void ChangeSafety(double decibels) => Change(settings => settings with
    {
        SafetyCeilingDbfs = Math.Clamp(settings.SafetyCeilingDbfs + decibels, MonitorSettings.LowestSafetyCeilingDbfs, MonitorSettings.HighestSafetyCeilingDbfs),
    });

    /// <summary>Stereo and mono in turn, or stereo and side.</summary>
    public void ToggleChannels(MonitorChannels channels) =>
        Change(settings => settings with { Channels = settings.Channels == channels ? MonitorChannels.Stereo : channels });

    /// <summary>Left and right exchanged, or not.</summary>
    public void ToggleSwap() => Change(settings => settings with { IsSwapped = !settings.IsSwapped });

    /// <summary>A signal to set the level by, or the music again.</summary>
    public void ToggleSignal(MonitorSignal signal) =>
        Change(settings => settings with { Signal = settings.Signal == signal ? MonitorSignal.Music : signal });

    /// <summary>Hears one band, or all.</summary>
    public void ToggleBand() => Change(settings => settings with { BandListen = !settings.BandListen });

    /// <summary>Hears the band around a centre in Hz; the width in octaves stays unless given.</summary>
    public void ListenTo(double centreHz, double? octaves = null) => Change(settings => settings with
    {
        BandListen = true,
        BandCentreHz = Math.Clamp(centreHz, MonitorSettings.LowestBandHz, MonitorSettings.HighestBandHz),
        BandWidthOctaves = Math.Clamp(octaves ?? settings.BandWidthOctaves, MonitorSettings.NarrowestBandOctaves, MonitorSettings.WidestBandOctaves),
    });

    /// <summary>Hears the band between two edges in Hz, in either order.</summary>
    public void ListenBetween(double oneHz, double otherHz)
    {
        double low = Math.Max(1, Math.Min(oneHz, otherHz));
        double high = Math.Max(low, Math.Max(oneHz, otherHz));
        ListenTo(Math.Sqrt(low * high), Math.Log2(high / low));
    }

    /// <summary>Moves the band by so many sixths of an octave.</summary>
    public void MoveBand(int sixths) => ListenTo(Settings.BandCentreHz * Math.Pow(2, sixths / 6.0));

    /// <summary>Makes the band wider (above 1) or narrower.</summary>
    public void WidenBand(double factor) => ListenTo(Settings.BandCentreHz, Settings.BandWidthOctaves * factor);

    private ValueField Field(
        string id, string name, double lowest, double highest, double usual, string description, Func<double> read, Func<double, Func<MonitorSettings, MonitorSettings>> with) => new(
        $"monitor:{id}",
        new ParameterSpec(id, name, ParameterUnit.Decibels, lowest, highest, usual, Taper.Linear, description),
        read,
        (value, _) =>
        {
            Change(with(value));
            return null;
        });

    /// <summary>24 or 48 dB/oct.</summary>
    public void ToggleBandSlope() => Change(settings => settings with { BandSlopeDbPerOctave = settings.BandSlopeDbPerOctave == 48 ? 24 : 48 });
}
