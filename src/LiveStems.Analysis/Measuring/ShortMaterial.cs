using LiveStems.Dsp.Loudness;

namespace LiveStems.Analysis.Measuring;

/// <summary>What sound is too short to be judged by.</summary>
internal static class ShortMaterial
{
    // The window of short-term loudness (EBU Tech 3341), on which loudness range rests, too.
    private const double ShortTermSeconds = 3;

    /// <summary>What cannot be judged, in words; null when everything can.</summary>
    public static string? NotJudged(double seconds) => seconds >= ShortTermSeconds
        ? null
        : $"too short for short-term loudness, loudness range and the ratio of peaks to them, which need {ShortTermSeconds:0} s; the rest holds";

    /// <summary>The report without figures that mean nothing for sound so short.</summary>
    public static LoudnessReport Judged(LoudnessReport report, double seconds) => seconds >= ShortTermSeconds
        ? report
        : report with { LoudnessRangeLu = double.NaN, MaximumShortTermLufs = double.NaN };
}
