using LiveStems.Analysis.Measuring;
using LiveStems.Analysis.Spectra;
using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;

namespace LiveStems.Analysis.Balance;

/// <summary>What a song's master measures, for holding it against the other songs.</summary>
/// <param name="Title">Title of the song.</param>
/// <param name="Seconds">Its length.</param>
/// <param name="Loudness">Loudness, range and peaks.</param>
/// <param name="Timeline">Loudness over time.</param>
/// <param name="Spectrum">Its third-octave spectrum.</param>
public sealed record SongFigures(string Title, double Seconds, LoudnessReport Loudness, LoudnessTimeline Timeline, LongTermSpectrum Spectrum)
{
    /// <summary>Upper edge of the lows in Hz (common practice).</summary>
    public const double LowsBelowHz = 250;

    /// <summary>Lower edge of the highs in Hz (common practice).</summary>
    public const double HighsAboveHz = 4000;

    /// <summary>Peak-to-loudness ratio in LU; NaN for silence.</summary>
    public double PeakToLoudnessLu => Loudness.PeakToLoudnessLu ?? double.NaN;

    /// <summary>Slope against pink noise in dB an octave.</summary>
    public double TiltDbPerOctave => Spectrum.Tilt.DbPerOctave;

    /// <summary>Level of the lows (20 to 250 Hz) above the song's loudness in dB: as if all songs were equally loud.</summary>
    public double LowsDb => PartDb(0, LowsBelowHz);

    /// <summary>Level of the mids (250 Hz to 4 kHz) above the song's loudness in dB.</summary>
    public double MidsDb => PartDb(LowsBelowHz, HighsAboveHz);

    /// <summary>Level of the highs (from 4 kHz) above the song's loudness in dB.</summary>
    public double HighsDb => PartDb(HighsAboveHz, double.PositiveInfinity);

    /// <summary>Levels of the third octaves above the song's loudness in dB.</summary>
    public IReadOnlyList<(double Hz, double Db)> Curve =>
        [.. Spectrum.Bands.Select(band => (band.Band.MidHz, band.MeanDbfs - Loudness.IntegratedLufs))];

    private double PartDb(double fromHz, double toHz) =>
        Decibels.FromPower(Spectrum.Bands.Where(band => band.Band.MidHz >= fromHz && band.Band.MidHz < toHz).Sum(band => Decibels.ToPower(band.MeanDbfs)))
        - Loudness.IntegratedLufs;
}
