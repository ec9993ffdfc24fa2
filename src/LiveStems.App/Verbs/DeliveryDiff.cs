using System.Text.Json.Nodes;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Comparing;
using LiveStems.Analysis.Delivery;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>Two deliveries compared: what was set otherwise, and what can be measured of it.</summary>
internal static class DeliveryDiff
{
    private const int MostChanges = 8;

    /// <summary>Compares and writes.</summary>
    public static void Run(TextWriter output, string path, int before, int after, string? root, bool asJson, CancellationToken interruption)
    {
        string folder = AlbumFile.FolderOf(path);
        _ = AlbumFile.Load(path, Processors.Catalogue);
        IReadOnlyList<LoggedDelivery> log = DeliveryLog.List(folder, Processors.Catalogue);
        LoggedDelivery was = DeliveryLog.Find(log, before, root);
        LoggedDelivery now = DeliveryLog.Find(log, after, root);
        IReadOnlyList<AlbumChange> settings = AlbumDifference.Between(was.Album, now.Album, Processors.Catalogue);
        IReadOnlyList<SongDifference> sounds;
        using (ProgressLine line = new())
        {
            sounds = DeliveryDifference.Measure(was.Folder, now.Folder, (song, share) => line.Report($"comparing {song}", share), interruption);
        }

        if (asJson)
        {
            StringWriter changes = new();
            ChangeText.Write(changes, settings, asJson: true, string.Empty);
            JsonOutput.Write(output, new JsonObject { ["settings"] = JsonNode.Parse(changes.ToString()), ["songs"] = JsonOutput.Array(sounds.Select(ToJson)) });
            return;
        }

        output.WriteLine($"Settings, delivery {before} → {after}");
        ChangeText.Write(output, settings, asJson: false, "no difference");
        output.WriteLine();
        output.WriteLine("Measured in the masters");
        foreach (SongDifference sound in sounds)
        {
            Write(output, sound);
        }
    }

    private static void Write(TextWriter output, SongDifference sound)
    {
        if (sound.Before is not { } was || sound.After is not { } now)
        {
            output.WriteLine($"{sound.Song}: only in the {(sound.Before is null ? "later" : "earlier")} delivery");
            return;
        }

        if (was.SampleRate != now.SampleRate)
        {
            output.WriteLine($"{sound.Song}: at {was.SampleRate} Hz in one and {now.SampleRate} Hz in the other, not compared");
            return;
        }

        if (sound.IsSameSound)
        {
            output.WriteLine($"{sound.Song}: the same sound, sample for sample");
            return;
        }

        output.WriteLine(sound.Song);
        if (sound.LaterSeconds != 0)
        {
            output.WriteLine($"  the music comes {Numbers.Text(Math.Abs(sound.LaterSeconds), 3)} s {(sound.LaterSeconds > 0 ? "later" : "earlier")} in its file; compared in step with it, times are those of the later delivery");
        }

        Figure("loudness", "LUFS", "LU", was.IntegratedLufs, now.IntegratedLufs, 1);
        Figure("loudness range", "LU", "LU", was.LoudnessRangeLu, now.LoudnessRangeLu, 1);
        Figure("true peak", "dBTP", "dB", was.TruePeakDbtp, now.TruePeakDbtp, 2);
        Figure("length", "s", "s", (double)was.Frames / was.SampleRate, (double)now.Frames / now.SampleRate, 2);
        foreach (BandChange change in sound.Changes.Take(MostChanges))
        {
            string when = change.IsThroughout ? "throughout" : $"{Numbers.Length(change.StartSeconds)} to {Numbers.Length(change.EndSeconds)}";
            output.WriteLine($"  {when}, {Hertz(change.LowestHz)} to {Hertz(change.HighestHz)}: {Numbers.Text(Math.Abs(change.MeanDb), 1)} dB {(change.MeanDb > 0 ? "stronger" : "weaker")}");
        }

        if (sound.Changes.Count == 0)
        {
            output.WriteLine($"  no octave changed by half a decibel or more for two seconds; no sample by more than {Numbers.Text(sound.LargestDifferenceDbfs, 0)} dBFS");
        }
        else if (sound.Changes.Count > MostChanges)
        {
            output.WriteLine($"  and {sound.Changes.Count - MostChanges} smaller ones; --json lists all");
        }

        void Figure(string name, string unit, string step, double before, double after, int decimals)
        {
            double change = Math.Round(after - before, decimals);
            if (change != 0)
            {
                output.WriteLine($"  {name}: {Numbers.Text(before, decimals)} → {Numbers.Text(after, decimals)} {unit} ({(change > 0 ? "+" : "")}{Numbers.Text(change, decimals)} {step})");
            }
        }
    }

    private static string Hertz(double value) => value >= 1000 ? $"{value / 1000:0.#} kHz" : $"{value:0} Hz";

    private static JsonObject ToJson(SongDifference sound) => new()
    {
        ["song"] = sound.Song,
        ["before"] = sound.Before?.Name,
        ["after"] = sound.After?.Name,
        ["isSameSound"] = sound.IsSameSound,
        ["laterSeconds"] = Numbers.Json(sound.LaterSeconds, 6),
        ["largestDifferenceDbfs"] = Numbers.Json(sound.LargestDifferenceDbfs, 2),
        ["integratedLufsBefore"] = Numbers.Json(sound.Before?.IntegratedLufs ?? double.NaN, 3),
        ["integratedLufsAfter"] = Numbers.Json(sound.After?.IntegratedLufs ?? double.NaN, 3),
        ["truePeakDbtpBefore"] = Numbers.Json(sound.Before?.TruePeakDbtp ?? double.NaN, 3),
        ["truePeakDbtpAfter"] = Numbers.Json(sound.After?.TruePeakDbtp ?? double.NaN, 3),
        ["changes"] = JsonOutput.Array(sound.Changes.Select(change => new JsonObject
        {
            ["startSeconds"] = Numbers.Json(change.StartSeconds, 3),
            ["endSeconds"] = Numbers.Json(change.EndSeconds, 3),
            ["lowestHz"] = Numbers.Json(change.LowestHz, 2),
            ["highestHz"] = Numbers.Json(change.HighestHz, 2),
            ["changeDb"] = Numbers.Json(change.MeanDb, 3),
            ["isThroughout"] = change.IsThroughout,
        })),
    };
}
