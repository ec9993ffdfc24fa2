using LiveStems.Dsp;

namespace LiveStems.Engine.Monitor;

/// <summary>The settings as the audio thread needs them: ready numbers, made on the control thread, never changed.</summary>
internal sealed class MonitorTargets
{
    private const double LargestFairGainDb = 40;

    /// <summary>Takes settings over; each is held within its range.</summary>
    /// <exception cref="ArgumentException">A setting is not a number.</exception>
    public MonitorTargets(MonitorSettings settings)
    {
        FairGain = Decibels.ToAmplitude(Held(settings.FairGainDb, -LargestFairGainDb, LargestFairGainDb));
        double levelDb = Held(settings.LevelDb, MonitorSettings.LowestLevelDb, MonitorSettings.HighestLevelDb);
        double dimDb = Held(settings.DimDb, -40, -6);
        Level = Decibels.ToAmplitude(settings.IsDimmed ? levelDb + dimDb : levelDb);
        Channels = ChannelWeights.For(settings.Channels, settings.IsSwapped);
        Signal = settings.Signal;
        BandShare = settings.BandListen ? 1 : 0;
        BandCentre = Math.Log2(Held(settings.BandCentreHz, MonitorSettings.LowestBandHz, MonitorSettings.HighestBandHz));
        BandWidth = Held(settings.BandWidthOctaves, MonitorSettings.NarrowestBandOctaves, MonitorSettings.WidestBandOctaves);
        IsBandSteep = settings.BandSlopeDbPerOctave > 24;
        CeilingDb = Held(settings.SafetyCeilingDbfs, MonitorSettings.LowestSafetyCeilingDbfs, MonitorSettings.HighestSafetyCeilingDbfs);
    }

    /// <summary>Gain before everything else, as an amplitude ratio.</summary>
    public double FairGain { get; }

    /// <summary>Level and dimming together, as an amplitude ratio.</summary>
    public double Level { get; }

    /// <summary>What each side gets of left and right.</summary>
    public ChannelWeights Channels { get; }

    /// <summary>Music or a signal instead.</summary>
    public MonitorSignal Signal { get; }

    /// <summary>1 for the band alone, 0 for the whole.</summary>
    public double BandShare { get; }

    /// <summary>Centre of the band in octaves above 1 Hz.</summary>
    public double BandCentre { get; }

    /// <summary>Width of the band in octaves.</summary>
    public double BandWidth { get; }

    /// <summary>True for edges of 48 dB/oct, false for 24.</summary>
    public bool IsBandSteep { get; }

    /// <summary>Ceiling of the safety limiter in dBFS.</summary>
    public double CeilingDb { get; }

    private static double Held(double value, double lowest, double highest) => double.IsNaN(value)
        ? throw new ArgumentException("A setting of the monitor is not a number; the monitor keeps the settings it has.")
        : Math.Clamp(value, lowest, highest);
}
