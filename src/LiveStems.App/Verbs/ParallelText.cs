using System.Text.Json.Nodes;
using LiveStems.Albums.History;
using LiveStems.Analysis.Parallels;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>What the check of a parallel found, for people and for programs.</summary>
internal static class ParallelText
{
    /// <summary>Writes it for people.</summary>
    public static void Write(TextWriter output, ParallelCheckReport check, BlendReport? blend, IReadOnlyList<AlbumChange> changes)
    {
        output.WriteLine($"{check.Stem}, parallel {check.Parallel}, blend {Numbers.Text(check.BlendDb, 2)} dB");
        output.WriteLine($"dry {Numbers.Text(check.DryLufs, 1)} LUFS, parallel {Numbers.Text(check.ParallelLufs, 1)} LUFS, both {Numbers.Text(check.BothLufs, 1)} LUFS");
        output.WriteLine(TimeWords(check));
        output.WriteLine(check.IsTurnedOver
            ? $"polarity: turned over, both are {Numbers.Text(check.TurnedOverLufs - check.BothLufs, 1)} LU louder; --turn-over does it"
            : $"polarity: right; turned over, both would be {Numbers.Text(check.BothLufs - check.TurnedOverLufs, 1)} LU less loud");
        output.WriteLine();
        TextTable table = new("band Hz", "dry dBFS", "parallel dBFS", "sum against parts dB", "deepest dB", "at Hz", "");
        foreach (PairBand band in check.Bands)
        {
            table.Add(
                Numbers.Text(band.Band.NominalHz, band.Band.NominalHz < 100 ? 1 : 0),
                Numbers.Text(band.DryDbfs, 1),
                Numbers.Text(band.ParallelDbfs, 1),
                Signed(band.SumDb, 1),
                Signed(band.NotchDb, 1),
                Numbers.Text(band.NotchHz, 0),
                band.IsLoss ? "cancels" : string.Empty);
        }

        table.WriteTo(output);
        int losses = check.Losses.Count();
        output.WriteLine(losses == 0 ? "the pair cancels nowhere" : $"the pair sums to less than its parts in {losses} {(losses == 1 ? "band" : "bands")}");
        if (blend is not null)
        {
            Write(output, blend);
        }

        foreach (AlbumChange change in changes)
        {
            output.WriteLine(change);
        }
    }

    /// <summary>It for programs.</summary>
    public static JsonObject ToJson(ParallelCheckReport check, BlendReport? blend, IReadOnlyList<AlbumChange> changes)
    {
        JsonObject json = new()
        {
            ["stem"] = check.Stem,
            ["parallel"] = check.Parallel,
            ["blendDb"] = Numbers.Json(check.BlendDb, 3),
            ["alignSamples"] = Numbers.Json(check.AlignSamples, 4),
            ["bestAlignSamples"] = Numbers.Json(check.BestAlignSamples, 4),
            ["lateSamples"] = Numbers.Json(check.Delay?.Samples ?? double.NaN, 4),
            ["correlation"] = Numbers.Json(check.Delay?.Correlation ?? double.NaN, 4),
            ["correlationNow"] = Numbers.Json(check.Delay?.CorrelationNow ?? double.NaN, 4),
            ["dryLufs"] = Numbers.Json(check.DryLufs, 3),
            ["parallelLufs"] = Numbers.Json(check.ParallelLufs, 3),
            ["bothLufs"] = Numbers.Json(check.BothLufs, 3),
            ["turnedOverLufs"] = Numbers.Json(check.TurnedOverLufs, 3),
            ["isTurnedOver"] = check.IsTurnedOver,
            ["bands"] = JsonOutput.Array(check.Bands.Select(band => new JsonObject
            {
                ["frequencyHz"] = band.Band.NominalHz,
                ["dryDbfs"] = Numbers.Json(band.DryDbfs, 2),
                ["parallelDbfs"] = Numbers.Json(band.ParallelDbfs, 2),
                ["sumAgainstPartsDb"] = Numbers.Json(band.SumDb, 2),
                ["notchDb"] = Numbers.Json(band.NotchDb, 2),
                ["notchHz"] = Numbers.Json(band.NotchHz, 1),
                ["cancels"] = band.IsLoss,
            })),
            ["changes"] = JsonOutput.Array(changes.Select(change => JsonValue.Create(change.ToString()))),
        };
        if (blend is not null)
        {
            json["hits"] = new JsonObject
            {
                ["startSeconds"] = Numbers.Json(blend.FromSeconds, 3),
                ["endSeconds"] = Numbers.Json(blend.ToSeconds, 3),
                ["count"] = blend.InSong.Hits,
                ["stemOnsetDb"] = Numbers.Json(blend.InStem.OnsetDb, 3),
                ["stemSustainDb"] = Numbers.Json(blend.InStem.SustainDb, 3),
                ["songOnsetDb"] = Numbers.Json(blend.InSong.OnsetDb, 3),
                ["songSustainDb"] = Numbers.Json(blend.InSong.SustainDb, 3),
                ["stemLouderLu"] = Numbers.Json(blend.StemLouderLu, 3),
                ["songLouderLu"] = Numbers.Json(blend.SongLouderLu, 3),
                ["fairSongOnsetDb"] = Numbers.Json(blend.FairOnsetDb, 3),
            };
        }

        return json;
    }

    private static string TimeWords(ParallelCheckReport check)
    {
        if (!check.IsAlike || check.Delay is not { } delay)
        {
            return "time: too unlike the dry stem to tell; all latencies are made up for";
        }

        string late = $"{Numbers.Text(Math.Abs(delay.Samples), 2)} samples {(delay.Samples > 0 ? "later" : "earlier")} than the dry stem{(delay.IsInTime ? ", in time" : "; --align sets it")}";
        return $"time: {late} (correlation {Numbers.Text(delay.Correlation, 2)}, as it lies {Numbers.Text(delay.CorrelationNow, 2)})";
    }

    private static void Write(TextWriter output, BlendReport blend)
    {
        output.WriteLine();
        output.WriteLine($"{blend.InSong.Hits} hits from {Numbers.Text(blend.FromSeconds, 1)} to {Numbers.Text(blend.ToSeconds, 1)} s, with the parallel against without");
        TextTable table = new("", "onset dB", "sustain dB", "onset to sustain dB", "louder LU");
        table.Add("in the stem", Signed(blend.InStem.OnsetDb, 2), Signed(blend.InStem.SustainDb, 2), Signed(blend.InStem.OnsetToSustainDb, 2), Signed(blend.StemLouderLu, 2));
        table.Add("in the song", Signed(blend.InSong.OnsetDb, 2), Signed(blend.InSong.SustainDb, 2), Signed(blend.InSong.OnsetToSustainDb, 2), Signed(blend.SongLouderLu, 2));
        table.WriteTo(output);
        output.WriteLine($"once equally loud, the onsets stand {Signed(blend.FairOnsetDb, 2)} dB higher in the song");
    }

    private static string Signed(double value, int decimals) => (value > 0 ? "+" : "") + Numbers.Text(value, decimals);
}
