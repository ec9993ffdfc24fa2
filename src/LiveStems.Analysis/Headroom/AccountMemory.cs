using System.Text.Json;
using System.Text.Json.Serialization;

namespace LiveStems.Analysis.Headroom;

/// <summary>A row as it is kept between two accounts.</summary>
/// <param name="Subject">What the row is about.</param>
/// <param name="OwnState">Digest of its stem with all that is done to it, and of the bus.</param>
/// <param name="SongState">Digest of the whole song.</param>
/// <param name="LeftOut">Figures without it.</param>
/// <param name="AddedIn">Figures with nothing but it.</param>
/// <param name="BoughtDb">Bought headroom.</param>
/// <param name="BoughtAloneDb">Bought headroom when alone.</param>
internal sealed record KeptRow(
    string Subject, string OwnState, string SongState, HeadroomFigures LeftOut, HeadroomFigures AddedIn, double BoughtDb, double BoughtAloneDb);

/// <summary>The rows of a song's last account, kept in a small file.</summary>
internal sealed class AccountMemory(string path)
{
    private static readonly JsonSerializerOptions Form = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    /// <summary>The rows by subject; none when there is no file or it does not read.</summary>
    public Dictionary<string, KeptRow> Load()
    {
        try
        {
            return File.Exists(path) && JsonSerializer.Deserialize<KeptRow[]>(File.ReadAllBytes(path), Form) is { } rows
                ? rows.ToDictionary(row => row.Subject)
                : [];
        }
        catch (Exception fault) when (fault is JsonException or IOException or ArgumentException)
        {
            return [];
        }
    }

    /// <summary>Keeps rows in place of those before.</summary>
    public void Save(IEnumerable<KeptRow> rows)
    {
        string beside = $"{path}.{Environment.ProcessId}.part";
        File.WriteAllBytes(beside, JsonSerializer.SerializeToUtf8Bytes(rows.ToArray(), Form));
        File.Move(beside, path, overwrite: true);
    }
}
