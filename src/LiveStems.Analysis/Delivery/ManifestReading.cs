using System.Text.Json;

namespace LiveStems.Analysis.Delivery;

/// <summary>A file as a delivery's manifest tells of it.</summary>
/// <param name="Name">Path inside the delivery, with '/'.</param>
/// <param name="Kind">"master", "alternate", "treatedStem", "continuous".</param>
/// <param name="Song">Title of the song.</param>
/// <param name="Variant">Id of its format, alternate, or name of its stem.</param>
/// <param name="Sha256">SHA-256 of the file.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="SampleRate">Frames per second.</param>
/// <param name="Frames">Length in frames.</param>
/// <param name="Bits">Bits of a sample.</param>
/// <param name="IntegratedLufs">Loudness; NaN for none.</param>
/// <param name="LoudnessRangeLu">Loudness range.</param>
/// <param name="TruePeakDbtp">True peak by the sixteenfold method; NaN for none.</param>
public sealed record ManifestFile(
    string Name, string Kind, string Song, string Variant, string Sha256, long Bytes, int SampleRate, long Frames, int Bits, double IntegratedLufs, double LoudnessRangeLu, double TruePeakDbtp);

/// <summary>Reads the manifest of a delivery.</summary>
public static class ManifestReading
{
    /// <summary>The files of a delivery's folder.</summary>
    /// <exception cref="DeliveryException">There is no manifest, or it does not read.</exception>
    public static IReadOnlyList<ManifestFile> Of(string folder) => Read<IReadOnlyList<ManifestFile>>(folder, root => [.. root.GetProperty("files").EnumerateArray().Select(Entry)]);

    /// <summary>What the manifest remarks of the delivery.</summary>
    /// <exception cref="DeliveryException">There is no manifest, or it does not read.</exception>
    public static IReadOnlyList<string> RemarksOf(string folder) => Read<IReadOnlyList<string>>(
        folder, root => root.TryGetProperty("remarks", out JsonElement remarks) ? [.. remarks.EnumerateArray().Select(remark => remark.GetString()!)] : []);

    private static T Read<T>(string folder, Func<JsonElement, T> what)
    {
        string path = Path.Combine(folder, DeliveryManifest.ListName);
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
            return what(document.RootElement);
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException or IOException or UnauthorizedAccessException)
        {
            throw new DeliveryException($"{path}: the manifest can't be read ({fault.Message}); if the delivery was moved, say where to with --in; one that is not finished has none");
        }
    }

    private static ManifestFile Entry(JsonElement file) => new(
        file.GetProperty("file").GetString()!,
        file.GetProperty("kind").GetString()!,
        file.GetProperty("song").GetString()!,
        file.GetProperty("variant").GetString()!,
        file.GetProperty("sha256").GetString()!,
        file.GetProperty("bytes").GetInt64(),
        file.GetProperty("sampleRateHz").GetInt32(),
        file.GetProperty("frames").GetInt64(),
        file.GetProperty("bits").GetInt32(),
        Number(file, "integratedLufs"),
        Number(file, "loudnessRangeLu"),
        Number(file, "preciseTruePeakDbtp"));

    private static double Number(JsonElement file, string name) =>
        file.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : double.NaN;
}
