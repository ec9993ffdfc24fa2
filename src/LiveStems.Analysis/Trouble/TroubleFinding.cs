using System.Collections.Immutable;
using LiveStems.Engine.Monitor;

namespace LiveStems.Analysis.Trouble;

/// <summary>One finding of the harshness search.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Occurrence">When it happens.</param>
/// <param name="CentreHz">Its middle in Hz.</param>
/// <param name="WidthOctaves">Its width in octaves.</param>
/// <param name="SurplusDb">How far it stands above the stem's own smooth trend while it lasts, dB.</param>
/// <param name="PiercingSone">How much loudness the surplus adds at the listening level, in sone, weighed by sharpness.</param>
/// <param name="ShareOfTime">Share of the time that the stem sounds, 0 to 1.</param>
/// <param name="Ranges">When, in order.</param>
/// <param name="HeadroomDb">What taking it away whole gives back in peak level, dB; 0 where that was not measured.</param>
/// <param name="Correction">A correction that fits, with values to start from.</param>
public sealed record TroubleFinding(
    TroubleKind Kind,
    Occurrence Occurrence,
    double CentreHz,
    double WidthOctaves,
    double SurplusDb,
    double PiercingSone,
    double ShareOfTime,
    ImmutableArray<TimeRange> Ranges,
    double HeadroomDb,
    SuggestedCorrection Correction)
{
    /// <summary>Lower edge in Hz.</summary>
    public double LowHz => CentreHz * Math.Pow(2, -WidthOctaves / 2);

    /// <summary>Upper edge in Hz.</summary>
    public double HighHz => CentreHz * Math.Pow(2, WidthOctaves / 2);

    /// <summary>Middle of the band-listen setting that makes it heard, Hz.</summary>
    public double ListenCentreHz => Math.Clamp(CentreHz, MonitorSettings.LowestBandHz, MonitorSettings.HighestBandHz);

    /// <summary>Width of the band-listen setting that makes it heard, octaves.</summary>
    public double ListenWidthOctaves => Math.Clamp(1.5 * WidthOctaves, MonitorSettings.NarrowestBandOctaves, MonitorSettings.WidestBandOctaves);
}
