using System.Text.Json.Nodes;
using LiveStems.Analysis.Measuring;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>Measurements for programs.</summary>
internal static class MeasureJson
{
    /// <summary>One file.</summary>
    public static JsonObject Of(FileMeasurement result, bool overTime)
    {
        JsonObject json = new()
        {
            ["file"] = result.Info.Path,
            ["container"] = result.Info.Container,
            ["bitsPerSample"] = result.Info.BitsPerSample,
            ["channels"] = result.Info.Channels,
            ["sampleRateHz"] = result.Info.SampleRate,
            ["seconds"] = Numbers.Json(result.Info.Seconds, 6),
        };
        LoudnessText.AddTo(json, result.Loudness);
        AddNotJudged(json, result.NotJudged);
        AddTimeline(json, result.Timeline, overTime);
        return json;
    }

    /// <summary>An album.</summary>
    public static JsonObject Of(AlbumMeasurement album, bool overTime) => new()
    {
        ["integratedLufs"] = Numbers.Json(album.IntegratedLufs, 3),
        ["loudnessRangeLu"] = Numbers.Json(album.LoudnessRangeLu, 3),
        ["truePeakDbtp"] = Numbers.Json(album.TruePeakDbtp, 3),
        ["songs"] = JsonOutput.Array(album.Songs.Select(song => Of(song, overTime))),
    };

    private static JsonObject Of(SongMeasurement song, bool overTime)
    {
        JsonObject json = new()
        {
            ["title"] = song.Title,
            ["sampleRateHz"] = song.SampleRate,
            ["seconds"] = Numbers.Json(song.Seconds, 6),
        };
        LoudnessText.AddTo(json, song.Loudness);
        AddNotJudged(json, song.NotJudged);
        json["stems"] = JsonOutput.Array(song.Stems.Select(stem => new JsonObject
        {
            ["name"] = stem.Name,
            ["integratedLufs"] = Numbers.Json(stem.IntegratedLufs, 3),
            ["loudnessShare"] = Numbers.Json(stem.LoudnessShare, 5),
            ["peakShare"] = Numbers.Json(stem.PeakShare, 5),
        }));
        AddTimeline(json, song.Timeline, overTime);
        return json;
    }

    private static void AddNotJudged(JsonObject json, string? words)
    {
        if (words is not null)
        {
            json["notJudged"] = words;
        }
    }

    private static void AddTimeline(JsonObject json, LoudnessTimeline timeline, bool overTime)
    {
        json["lowestPeakToShortTermLu"] = Numbers.Json(timeline.LowestPeakToShortTermLu, 3);
        if (overTime)
        {
            json["overTime"] = JsonOutput.Array(timeline.Points.Select(point => new JsonObject
            {
                ["seconds"] = Numbers.Json(point.Seconds, 3),
                ["momentaryLufs"] = Numbers.Json(point.MomentaryLufs, 2),
                ["shortTermLufs"] = Numbers.Json(point.ShortTermLufs, 2),
                ["truePeakDbtp"] = Numbers.Json(point.TruePeakDbtp, 2),
                ["peakToShortTermLu"] = Numbers.Json(point.PeakToShortTermLu, 2),
                ["correlation"] = Numbers.Json(point.Correlation, 3),
            }));
        }
    }
}
