using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>What the meters read at one moment, of the master before the monitor.</summary>
/// <param name="MomentaryLufs">Loudness of the last 0.4 s (EBU Tech 3341).</param>
/// <param name="ShortTermLufs">Loudness of the last 3 s.</param>
/// <param name="IntegratedLufs">Gated loudness since the meters were reset (ITU-R BS.1770-5).</param>
/// <param name="LoudnessRangeLu">Loudness range since the reset (EBU Tech 3342).</param>
/// <param name="MaximumMomentaryLufs">Loudest momentary value since the reset.</param>
/// <param name="MaximumShortTermLufs">Loudest short-term value since the reset.</param>
/// <param name="MaximumTruePeakDbtp">Largest true peak of both sides since the reset (BS.1770-5 Annex 2).</param>
/// <param name="LeftTruePeakDbtp">True peak of the left side, rising at once and falling back.</param>
/// <param name="RightTruePeakDbtp">The right side.</param>
/// <param name="Correlation">Correlation of left and right over 0.3 s, −1 to 1; 1 for silence.</param>
/// <param name="MeasuredSeconds">Time of sound since the reset.</param>
public sealed record MeterReadings(
    double MomentaryLufs,
    double ShortTermLufs,
    double IntegratedLufs,
    double LoudnessRangeLu,
    double MaximumMomentaryLufs,
    double MaximumShortTermLufs,
    double MaximumTruePeakDbtp,
    double LeftTruePeakDbtp,
    double RightTruePeakDbtp,
    double Correlation,
    double MeasuredSeconds)
{
    /// <summary>Before there was any sound.</summary>
    public static MeterReadings Silence { get; } = new(
        double.NegativeInfinity, double.NegativeInfinity, double.NegativeInfinity, 0, double.NegativeInfinity, double.NegativeInfinity,
        double.NegativeInfinity, double.NegativeInfinity, double.NegativeInfinity, 1, 0);

    /// <summary>True peak minus integrated loudness in LU (peak-to-loudness ratio); null before there is any.</summary>
    public double? PeakToLoudnessLu => double.IsFinite(IntegratedLufs) ? MaximumTruePeakDbtp - IntegratedLufs : null;
}

/// <summary>The meters in EBU Mode (EBU Tech 3341): M, S, I, LRA, true peak; with correlation and peak-to-loudness ratio.</summary>
public sealed class MeterModel
{
    private const double NearLu = 0.5;

    private readonly AlbumDesk desk;
    private string? awaited;
    private bool isHeldOfAnother;

    internal MeterModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>The newest readings; they stand still until the next <see cref="AlbumDesk.Update"/>.</summary>
    public MeterReadings Readings { get; private set; } = MeterReadings.Silence;

    /// <summary>True to show LU relative to <see cref="ReferenceLufs"/>, false for absolute LUFS.</summary>
    public bool IsRelative { get; set; }

    /// <summary>True for the scale from −36 to +18 LU, false for −18 to +9 LU (Tech 3341, 2.7).</summary>
    public bool IsWideScale { get; set; }

    /// <summary>0 LU: the loudness that the song's master aims at, or −23 LUFS when it aims at none.</summary>
    public double ReferenceLufs => Targets.IntegratedLufs ?? -23;

    /// <summary>What 0 LU is, in words: "target −13.0 LUFS", or "reference −23.0 LUFS" where the master aims at none.</summary>
    public string ReferenceWords => $"{(HasTarget ? "target" : "reference")} {Format(ReferenceLufs)}";

    /// <summary>True when the integrated loudness stands within half an LU of the loudness that the master aims at.</summary>
    public bool IsOnTarget => HasTarget && Math.Abs(Readings.IntegratedLufs - ReferenceLufs) <= NearLu;

    /// <summary>The highest true peak that the master may have, in dBTP.</summary>
    public double CeilingDbtp => Targets.CeilingDbtp;

    /// <summary>The ends of the scale in LU relative to the reference.</summary>
    public (double Low, double High) ScaleLu => IsWideScale ? (-36, 18) : (-18, 9);

    /// <summary>True while the integrated values go on; pausing keeps them (Tech 3341, 2.4).</summary>
    public bool IsRunning { get; private set; } = true;

    private DeliveryTargets Targets => desk.Song.Targets ?? desk.Album.Targets;

    private bool HasTarget => Targets.IntegratedLufs is not null;

    /// <summary>A loudness as it is shown: relative or absolute, with its unit.</summary>
    public string Format(double lufs)
    {
        double shown = IsRelative ? lufs - ReferenceLufs : lufs;
        string number = double.IsFinite(shown) ? $"{(IsRelative && shown > 0.05 ? "+" : string.Empty)}{Math.Round(shown, 1):0.0}".Replace('-', '−') : "–";
        return $"{number} {(IsRelative ? "LU" : "LUFS")}";
    }

    /// <summary>Starts integrated loudness, range and maxima anew.</summary>
    public void Reset() => desk.Analysis.AskToResetMeters();

    /// <summary>Holds the integrated values, or lets them go on.</summary>
    public void ToggleRunning()
    {
        IsRunning = !IsRunning;
        if (IsRunning && isHeldOfAnother)
        {
            isHeldOfAnother = false;
            Reset();
        }

        desk.Analysis.AskToRun(IsRunning);
    }

    /// <summary>Another song is shown: what adds up starts anew, now and once more when that song is heard in place of the one before.</summary>
    /// <remarks>What is held is kept until it is let go on.</remarks>
    internal void BeginOtherSong()
    {
        if (!IsRunning)
        {
            isHeldOfAnother = true;
            return;
        }

        awaited = desk.Song.Title;
        Reset();
    }

    internal void Update()
    {
        Readings = desk.Analysis.Readings;
        if (awaited is not null && IsRunning && desk.Transport.State?.HeardSong == awaited)
        {
            awaited = null;
            Reset();
        }
    }
}
