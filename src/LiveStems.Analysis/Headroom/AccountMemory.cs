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

/// <summary>What is kept between two accounts of a song.</summary>
/// <param name="Rows">The last account.</param>
/// <param name="Figures">Figures by the digest of the song's state.</param>
/// <param name="Curves">Points of drive curves by the digest of the song's state.</param>
internal sealed record KeptAccount(
    IReadOnlyList<KeptRow> Rows,
    IReadOnlyDictionary<string, HeadroomFigures> Figures,
    IReadOnlyDictionary<string, IReadOnlyDictionary<int, HeadroomFigures>> Curves)
{
    /// <summary>Digests of the stems in the sum that is kept (<see cref="KeptSum"/>), in the order of the song; none for no sum.</summary>
    public IReadOnlyList<string> SumOf { get; init; } = [];

    /// <summary>Nothing yet.</summary>
    public static KeptAccount Nothing { get; } = new([], new Dictionary<string, HeadroomFigures>(), new Dictionary<string, IReadOnlyDictionary<int, HeadroomFigures>>());
}

/// <summary>The last account of a song, kept in a small file.</summary>
internal sealed class AccountMemory(string path)
{
    private static readonly JsonSerializerOptions Form = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    /// <summary>What is kept; nothing when there is no file or it does not read.</summary>
    public KeptAccount Load()
    {
        try
        {
            return File.Exists(path) && JsonSerializer.Deserialize<KeptAccount>(File.ReadAllBytes(path), Form) is { Rows: not null, Figures: not null, Curves: not null, SumOf: not null } kept
                ? kept
                : KeptAccount.Nothing;
        }
        catch (Exception fault) when (fault is JsonException or IOException or ArgumentException or NotSupportedException)
        {
            return KeptAccount.Nothing;
        }
    }

    /// <summary>Keeps an account in place of that before.</summary>
    public void Save(KeptAccount account)
    {
        string beside = $"{path}.{Environment.ProcessId}.part";
        File.WriteAllBytes(beside, JsonSerializer.SerializeToUtf8Bytes(account, Form));
        File.Move(beside, path, overwrite: true);
    }
}
