using System.Globalization;
using LiveStems.Analysis.Hearing;

namespace LiveStems.Analysis.Trouble;

/// <summary>Findings in words.</summary>
public static class FindingWords
{
    /// <summary>"resonance".</summary>
    public static string Kind(TroubleKind kind) => kind switch
    {
        TroubleKind.Resonance => "resonance",
        TroubleKind.RingingTone => "ringing tone",
        TroubleKind.Glare => "glare",
        TroubleKind.Sibilance => "sibilance",
        TroubleKind.Mud => "mud on low notes",
        TroubleKind.PickNoise => "pick and fret noise",
        TroubleKind.Hum => "mains hum",
        TroubleKind.Rumble => "rumble",
        TroubleKind.Hiss => "hiss",
        _ => kind.ToString(),
    };

    /// <summary>"steady".</summary>
    public static string When(Occurrence occurrence) => occurrence switch
    {
        Occurrence.Steady => "steady",
        Occurrence.NoteFollowing => "follows notes",
        Occurrence.EventBound => "in events",
        _ => occurrence.ToString(),
    };

    /// <summary>"1.24 kHz".</summary>
    public static string Frequency(double hz) => hz >= 1000
        ? $"{(hz / 1000).ToString("0.00", CultureInfo.InvariantCulture)} kHz"
        : $"{hz.ToString("0", CultureInfo.InvariantCulture)} Hz";

    /// <summary>"resonance at 1.24 kHz (E♭6 −6), 8.1 dB over the trend, in events, 31 % of the time".</summary>
    public static string Of(TroubleFinding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Kind(finding.Kind)} at {Frequency(finding.CentreHz)} ({NoteName.Of(finding.CentreHz)}), {finding.SurplusDb:0.0} dB over the trend, {When(finding.Occurrence)}, {finding.ShareOfTime * 100:0} % of the time");
    }
}
