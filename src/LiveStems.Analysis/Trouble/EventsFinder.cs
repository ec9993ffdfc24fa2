using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Trouble;

/// <summary>Sibilance of voices, and clicks of picks and fingers on strings.</summary>
internal sealed class EventsFinder(QuickEvents events, TroubleSettings settings, double seconds, double soundingSeconds)
{
    /// <summary>Sharp sounds up to here below the voice's own level pass, dB.</summary>
    public const double SharpDb = -16;

    /// <summary>Clicks up to here above their surroundings pass, dB per Hz.</summary>
    public const double ClickDb = 6;

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
        if (settings.Role is StemRole.Bass or StemRole.Guitar && events.Clicks >= FewestClicks && click > ClickDb - settings.SensitivityDb)
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
