using System.Text.Json.Nodes;
using LiveStems.App.Terminal;
using LiveStems.Dsp.Loudness;

namespace LiveStems.App.Verbs;

/// <summary>Loudness figures under the names that all verbs use.</summary>
internal static class LoudnessText
{
    /// <summary>The figures for programs.</summary>
    public static void AddTo(JsonObject result, LoudnessReport report)
    {
        result["integratedLufs"] = Numbers.Json(report.IntegratedLufs, 3);
        result["loudnessRangeLu"] = Numbers.Json(report.LoudnessRangeLu, 3);
        result["maximumMomentaryLufs"] = Numbers.Json(report.MaximumMomentaryLufs, 3);
        result["maximumShortTermLufs"] = Numbers.Json(report.MaximumShortTermLufs, 3);
        result["truePeakDbtp"] = Numbers.Json(report.TruePeakDbtp, 3);
        result["samplePeakDbfs"] = Numbers.Json(report.SamplePeakDbfs, 3);
        result["peakToLoudnessLu"] = Numbers.Json(report.PeakToLoudnessLu ?? double.NaN, 3);
    }
}
