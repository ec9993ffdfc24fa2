using System.Text.Json;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Intake;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>The intake check for programs.</summary>
internal static class CheckJson
{
    /// <summary>Findings first, then what was measured.</summary>
    public static JsonObject Of(IntakeReport report, Album? album) => new()
    {
        ["hasStop"] = report.HasStop,
        ["findings"] = JsonOutput.Array(report.Findings.Select((finding, index) => Finding(finding, index + 1, album))),
        ["songs"] = JsonOutput.Array(report.Songs.Select(Song)),
    };

    private static JsonObject Finding(IntakeFinding finding, int number, Album? album) => new()
    {
        ["number"] = number,
        ["rank"] = Word(finding.Rank),
        ["kind"] = Word(finding.Kind),
        ["song"] = finding.Song,
        ["stem"] = finding.Stem,
        ["startSeconds"] = Numbers.Json(finding.StartSeconds ?? double.NaN, 6),
        ["endSeconds"] = Numbers.Json(finding.EndSeconds ?? double.NaN, 6),
        ["size"] = Numbers.Json(finding.Size, 3),
        ["sizeUnit"] = finding.Unit,
        ["text"] = finding.Text,
        ["request"] = finding.Request,
        ["answer"] = album is null ? null : IntakeAnswers.To(album, finding)?.Text,
    };

    private static JsonObject Song(SongFacts song)
    {
        JsonObject json = new()
        {
            ["title"] = song.Title,
            ["sampleRateHz"] = song.SampleRate,
            ["stems"] = JsonOutput.Array(song.Stems.Select((stem, index) => File(stem, song.Mix?.Stems[index]))),
            ["roughMix"] = song.RoughMix is { } mix ? File(mix, null) : null,
        };
        if (song.Mix is { } sum)
        {
            json["sum"] = new JsonObject
            {
                ["medianGainDb"] = Numbers.Json(sum.MedianGainDb, 3),
                ["residualDb"] = Numbers.Json(sum.ResidualDb, 2),
                ["unexplainedDb"] = Numbers.Json(sum.UnexplainedDb, 2),
                ["leftOutShare"] = Numbers.Json(sum.LeftOutShare, 4),
                ["octaves"] = JsonOutput.Array(sum.Bands.Select(band => new JsonObject
                {
                    ["frequencyHz"] = band.Band.NominalHz,
                    ["residualDb"] = Numbers.Json(band.ResidualDb, 2),
                    ["unexplainedDb"] = Numbers.Json(band.UnexplainedDb, 2),
                })),
            };
        }

        json["shared"] = JsonOutput.Array(song.Relations.Select(relation => new JsonObject
        {
            ["first"] = song.Stems[relation.First].File.Name,
            ["second"] = song.Stems[relation.Second].File.Name,
            ["sharedShare"] = Numbers.Json(relation.SharedShare, 4),
            ["lateSamples"] = Numbers.Json(relation.LateFrames, 3),
            ["isInverted"] = relation.IsInverted,
        }));
        return json;
    }

    private static JsonObject File(SongFile file, StemInMix? place)
    {
        JsonObject json = new() { ["name"] = file.File.Name, ["file"] = file.File.Path };
        if (file.Facts is not { } facts)
        {
            json["fault"] = file.Fault;
            return json;
        }

        json["container"] = facts.Info.Container;
        json["sampleRateHz"] = facts.Info.SampleRate;
        json["channels"] = facts.Info.Channels;
        json["bitsPerSample"] = facts.Info.BitsPerSample;
        json["usedBits"] = facts.UsedBits;
        json["seconds"] = Numbers.Json(facts.Info.Seconds, 6);
        json["soundStartSeconds"] = Numbers.Json(facts.SoundStartSeconds ?? double.NaN, 3);
        json["soundEndSeconds"] = Numbers.Json(facts.SoundEndSeconds ?? double.NaN, 3);
        json["integratedLufs"] = Numbers.Json(facts.IntegratedLufs, 3);
        json["truePeakDbtp"] = Numbers.Json(facts.TruePeakDbtp, 3);
        json["samplePeakDbfs"] = Numbers.Json(facts.SamplePeakDbfs, 3);
        json["leftDbfs"] = Numbers.Json(facts.LevelDbfs.Left, 3);
        json["rightDbfs"] = Numbers.Json(facts.LevelDbfs.Right, 3);
        json["leftOffset"] = Numbers.Json(facts.Offset.Left, 8);
        json["rightOffset"] = Numbers.Json(facts.Offset.Right, 8);
        json["correlation"] = Numbers.Json(facts.Correlation, 4);
        json["isMono"] = facts.IsMono;
        json["floorDbfs"] = Numbers.Json(facts.FloorDbfs, 2);
        json["shareAtPeak"] = Numbers.Json(facts.ShareAtPeak, 4);
        json["flatTops"] = facts.FlatTops;
        json["dropouts"] = Events(facts.Dropouts, facts.Info.SampleRate, "samples");
        json["clicks"] = Events(facts.Clicks, facts.Info.SampleRate, "levelDbfs");
        json["clippedRuns"] = Events(facts.Clipping, facts.Info.SampleRate, "samples");
        json["overs"] = Events(facts.Overs, facts.Info.SampleRate, "truePeakDbtp");
        if (place is not null)
        {
            json["inRoughMix"] = new JsonObject
            {
                ["isFound"] = place.IsFound,
                ["lateSamples"] = Numbers.Json(place.LateFrames, 3),
                ["gainDb"] = Numbers.Json(place.GainDb, 3),
                ["leftGain"] = Numbers.Json(place.Gain.Left, 6),
                ["rightGain"] = Numbers.Json(place.Gain.Right, 6),
                ["leftSign"] = place.Sign.Left,
                ["rightSign"] = place.Sign.Right,
                ["agreement"] = Numbers.Json(place.Agreement, 3),
            };
        }

        return json;
    }

    private static JsonObject Events(EventList events, int sampleRate, string sizeName) => new()
    {
        ["count"] = events.Count,
        ["places"] = JsonOutput.Array(events.Places.Select(place => new JsonObject
        {
            ["startSeconds"] = Numbers.Json((double)place.Frame / sampleRate, 6),
            ["frames"] = place.Frames,
            ["channel"] = place.Channel == 0 ? "left" : "right",
            [sizeName] = Numbers.Json(place.Size, 3),
        })),
    };

    private static string Word<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.CamelCase.ConvertName(value.ToString());
}
