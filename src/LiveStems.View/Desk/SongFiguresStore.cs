using System.Text.Json;
using System.Text.Json.Serialization;
using LiveStems.Analysis.Caching;
using LiveStems.Dsp.Loudness;

namespace LiveStems.View.Desk;

/// <summary>How long and how loud the master of a song is.</summary>
/// <param name="Seconds">Its length before it is cut for the album.</param>
/// <param name="Loudness">Loudness, range and peaks.</param>
public sealed record SongMeasure(double Seconds, LoudnessReport Loudness);

/// <summary>Figures of songs, kept in the user's cache under the digest of what the song sounds like.</summary>
internal static class SongFiguresStore
{
    private const string Kind = "figures";
    private const long LargestBytes = 16L << 20;

    // Silence measures −∞, which plain JSON has no word for.
    private static readonly JsonSerializerOptions Form = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    /// <summary>What is kept under a digest; null when nothing is, or it cannot be read.</summary>
    public static SongMeasure? Load(string digest)
    {
        try
        {
            string path = PathOf(digest);
            return File.Exists(path) && JsonSerializer.Deserialize<SongMeasure>(File.ReadAllBytes(path), Form) is { Loudness: not null } kept ? kept : null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or JsonException)
        {
            return null;
        }
    }

    /// <summary>Keeps figures; where that cannot be, they are measured anew next time.</summary>
    public static void Save(string digest, SongMeasure figures)
    {
        try
        {
            string path = PathOf(digest);
            string beside = $"{path}.{Environment.ProcessId}";
            File.WriteAllBytes(beside, JsonSerializer.SerializeToUtf8Bytes(figures, Form));
            File.Move(beside, path, overwrite: true);
            CacheFolder.Prune(Path.GetDirectoryName(path)!, LargestBytes);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // The cache is a convenience.
        }
    }

    private static string PathOf(string digest) => Path.Combine(CacheFolder.For(Kind), digest + ".json");
}
