using System.Text;
using System.Text.Json;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;

namespace LiveStems.Analysis.Delivery;

/// <summary>What stands in a delivery, for people's tools: a JSON list with figures, and checksums as sha256sum reads them.</summary>
internal static class DeliveryManifest
{
    /// <summary>Name of the list.</summary>
    public const string ListName = "manifest.json";

    private const string ChecksumsName = "SHA256SUMS";

    /// <summary>Writes both into a folder; each appears whole or not at all.</summary>
    public static void Write(string folder, Album album, DeliveryReport report, DateOnly date)
    {
        StringBuilder sums = new();
        foreach (DeliveredFile file in report.Files)
        {
            sums.Append($"{file.Sha256}  {file.Name}\n");
        }

        foreach ((string name, string sha256) in report.Papers)
        {
            sums.Append($"{sha256}  {name}\n");
        }

        SafeFile.Replace(Path.Combine(folder, ChecksumsName), Encoding.UTF8.GetBytes(sums.ToString()));
        SafeFile.Replace(Path.Combine(folder, ListName), List(album, report, date));
    }

    private static byte[] List(Album album, DeliveryReport report, DateOnly date)
    {
        using MemoryStream memory = new();
        using (Utf8JsonWriter json = new(memory, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("album", album.Title);
            json.WriteString("artist", album.Artist);
            json.WriteNumber("delivery", report.Number);
            json.WriteString("date", date.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
            json.WriteStartArray("files");
            foreach (DeliveredFile file in report.Files)
            {
                Write(json, file, file.Kind == DeliveredKind.Master ? album.Songs.First(song => song.Title == file.Song).Isrc : string.Empty);
            }

            json.WriteEndArray();
            json.WriteStartArray("remarks");
            foreach (string remark in report.Remarks)
            {
                json.WriteStringValue(remark);
            }

            json.WriteEndArray();
            json.WriteStartObject("treatedStemsAgainstSongBusDbfs");
            foreach ((string song, double apart) in report.StemSumNullDbfs.OrderBy(pair => pair.Key, StringComparer.Ordinal))
            {
                Number(json, song, apart);
            }

            json.WriteEndObject();
            json.WriteEndObject();
        }

        memory.WriteByte((byte)'\n');
        return memory.ToArray();
    }

    private static void Write(Utf8JsonWriter json, DeliveredFile file, string isrc)
    {
        json.WriteStartObject();
        json.WriteString("file", file.Name);
        json.WriteString("kind", char.ToLowerInvariant(file.Kind.ToString()[0]) + file.Kind.ToString()[1..]);
        json.WriteString("song", file.Song);
        json.WriteString("variant", file.Variant);
        json.WriteString("sha256", file.Sha256);
        json.WriteNumber("bytes", file.Bytes);
        if (isrc.Length > 0)
        {
            json.WriteString("isrc", isrc);
        }

        json.WriteNumber("sampleRateHz", file.SampleRate);
        json.WriteNumber("frames", file.Frames);
        json.WriteNumber("bits", file.Bits);
        Number(json, "integratedLufs", file.Loudness.IntegratedLufs);
        Number(json, "loudnessRangeLu", file.Loudness.LoudnessRangeLu);
        Number(json, "truePeakDbtp", file.Loudness.TruePeakDbtp);
        Number(json, "preciseTruePeakDbtp", file.PreciseTruePeakDbtp);
        Number(json, "samplePeakDbfs", file.Loudness.SamplePeakDbfs);
        if (file.CorrelationWithMaster is { } correlation)
        {
            Number(json, "correlationWithMaster", correlation);
        }

        json.WriteStartArray("notes");
        foreach (string note in file.Notes)
        {
            json.WriteStringValue(note);
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
        {
            json.WriteNumber(name, Math.Round(value, 3));
        }
        else
        {
            json.WriteNull(name);
        }
    }
}
