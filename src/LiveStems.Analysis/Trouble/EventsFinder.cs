using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Trouble;

/// <summary>Sibilance of voices, and clicks of picks and fingers on strings.</summary>
internal sealed class EventsFinder(QuickEvents events, TroubleSettings settings, double seconds, double soundingSeconds)
{
    /// <summary>Sharp sounds up to here below the voice's own level pass, dB.</summary>
    public const double SharpDb = -16;

    /// <summary>A click is gone while the note goes on: by so much farther its range must have fallen 80 ms on, dB.</summary>
    public const double ClickFallDb = 14;

    /// <summary>Clicks that do not stand above the ranges below and above by this pass, dB per Hz.</summary>
    public const double ClickDb = 3;

    private const double LeastSharpSeconds = 0.3;
    private const int FewestClicks = 8;
    private const double LoudShare = 0.75;

    public IEnumerable<TroubleFinding> Find()
    {
        double sharp = events.SharpDb.Percentile(LoudShare);
        bool isVoice = settings.Role is StemRole.LeadVocal or StemRole.BackingVocal;
        if (isVoice && events.SharpFrames * events.HopSeconds >= LeastSharpSeconds && sharp > SharpDb - settings.SensitivityDb)
        {
            double excess = sharp - SharpDb + 3;
            double centre = Math.Sqrt(5500.0 * 10_000);
            yield return new TroubleFinding(
                TroubleKind.Sibilance,
                Occurrence.EventBound,
                centre,
                Math.Log2(10_000 / 5500.0),
                excess,
                Piercing.Sone(settings.SplOf(events.SharpLevelDb.Percentile(LoudShare)), excess, centre),
                Math.Min(1, events.SharpFrames * events.HopSeconds / soundingSeconds),
                events.SharpRanges(seconds),
                0,
                CorrectionAdvice.DeEsser(5000, sharp, excess));
        }

        double click = events.ClickDb.Percentile(0.5);
        if (settings.Role is StemRole.Bass or StemRole.Guitar && events.Clicks >= FewestClicks
            && events.ClickFallDb.Percentile(0.5) > ClickFallDb - settings.SensitivityDb && click > ClickDb - settings.SensitivityDb)
        {
            double centre = Math.Sqrt(3000.0 * 5000);
            yield return new TroubleFinding(
                TroubleKind.PickNoise,
                Occurrence.EventBound,
                centre,
                Math.Log2(5000 / 3000.0),
                click,
                Piercing.Sone(settings.SplOf(events.ClickLevelDb.Percentile(0.5)), click, centre),
                Math.Min(1, events.Clicks * 0.05 / soundingSeconds),
                events.ClickRanges(seconds),
                0,
                CorrectionAdvice.DynamicBell(centre, 0.74, click, "takes the clicks down as they come and leaves the notes alone"));
        }
    }
}
