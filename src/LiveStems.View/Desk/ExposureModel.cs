using LiveStems.Albums.Model;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>
/// An estimate of how much sound the ears have had at the desk, once the listening level is calibrated: pink noise is
/// played, a level meter at the listening place is read, and the reading is typed in.
/// </summary>
/// <remarks>
/// It is an estimate: it knows what goes to the device, not what an amplifier behind it was turned to since, nor where the
/// listener sits.
/// </remarks>
public sealed class ExposureModel
{
    /// <summary>What must stand beside every figure.</summary>
    public const string Caution = "An estimate: right only while amplifier and listening place are as they were when it was calibrated.";

    /// <summary>The lowest and the highest reading that can be one, in dB(A).</summary>
    public const double LowestDbA = 40, HighestDbA = 110;

    private static readonly AlbumField ReadingField = new(
        new ParameterSpec("reading", "Reading", ParameterUnit.None, LowestDbA, HighestDbA, 73.5, Taper.Linear, "What the level meter reads at the listening place while pink noise plays: A-weighted, slow."), "dB(A)");

    private readonly HeardListener heard;
    private readonly AlbumDesk desk;

    // Mean square, A-weighted, of what went to the device while the level was read.
    private double? pascalSquaredPerFullScale;

    internal ExposureModel(AlbumDesk desk)
    {
        this.desk = desk;
        heard = desk.Analysis.Heard;
        Reading = new ValueField("ears reading", ReadingField, () => LevelDbA ?? double.NaN, (value, _) => Calibrate(value));
    }

    /// <summary>What the level meter reads, to be typed while pink noise plays; reads as the estimate.</summary>
    public ValueField Reading { get; }

    /// <summary>True once a level has been read.</summary>
    public bool IsCalibrated => pascalSquaredPerFullScale is not null;

    /// <summary>Sound pressure level that a mean square of 1 on both sides would make, A-weighted, in dB(A); to be remembered.</summary>
    public double? FullScaleDbA => pascalSquaredPerFullScale is { } scale ? SoundDose.Level(scale) : null;

    /// <summary>Estimated level at the listening place now, in dB(A); −∞ for silence, null without calibration.</summary>
    public double? LevelDbA { get; private set; }

    /// <summary>When the counting began: with the program, or when it was last begun anew.</summary>
    public DateTimeOffset Since { get; private set; } = DateTimeOffset.Now;

    /// <summary>Estimated energy since <see cref="Since"/>, in Pa²h; null without calibration.</summary>
    public double? PascalSquaredHours { get; private set; }

    /// <summary>Share of what a working day allows, in per cent (NIOSH).</summary>
    public double? DayPercent => PascalSquaredHours is { } energy ? SoundDose.WorkingDay.Percent(energy) : null;

    /// <summary>Share of what a week allows, in per cent (WHO-ITU H.870, adults).</summary>
    public double? WeekPercent => PascalSquaredHours is { } energy ? SoundDose.Week.Percent(energy) : null;

    /// <summary>How long the present level may go on until the day is full, in hours; null without calibration or sound.</summary>
    public double? HoursLeftToday =>
        LevelDbA is { } level && double.IsFinite(level) && DayPercent is { } used
            ? Math.Max(0, SoundDose.WorkingDay.AllowedHours(level) * (1 - used / 100))
            : null;

    /// <summary>
    /// While pink noise plays: this is what the meter reads, A-weighted, slow. Null when taken, or one line.
    /// </summary>
    public string? Calibrate(double readingDbA)
    {
        if (readingDbA is not (>= LowestDbA and <= HighestDbA))
        {
            return $"a reading lies between {LowestDbA} and {HighestDbA} dB(A)";
        }

        if (desk.Monitor.Settings.Signal != Engine.Monitor.MonitorSignal.PinkNoise || heard.Latest <= 0)
        {
            return "play the pink noise while you read the level meter at the listening place";
        }

        pascalSquaredPerFullScale = SoundDose.PascalSquared(readingDbA) / heard.Latest;
        Update();
        return null;
    }

    /// <summary>Takes a calibration back from an earlier run, in dB(A) at full scale; null for none.</summary>
    public void Restore(double? fullScaleDbA) =>
        pascalSquaredPerFullScale = fullScaleDbA is { } level && double.IsFinite(level) ? SoundDose.PascalSquared(level) : null;

    /// <summary>Starts to count anew: another day, other ears.</summary>
    public void Clear()
    {
        Since = DateTimeOffset.Now;
        desk.Analysis.AskToClearExposure();
    }

    /// <summary>Goes on with the calibration and the count of another desk that is closed: the ears are the same.</summary>
    public void GoOnFrom(ExposureModel before)
    {
        pascalSquaredPerFullScale = before.pascalSquaredPerFullScale;
        Since = before.Since;
        desk.Analysis.AskToAddExposure(before.heard.EnergySeconds);
    }

    internal void Update()
    {
        if (pascalSquaredPerFullScale is not { } scale)
        {
            (LevelDbA, PascalSquaredHours) = (null, null);
            return;
        }

        LevelDbA = SoundDose.Level(scale * heard.Latest);
        PascalSquaredHours = scale * heard.EnergySeconds / 3600;
    }
}
