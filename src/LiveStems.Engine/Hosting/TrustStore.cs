using System.Text.Json;

namespace LiveStems.Engine.Hosting;

/// <summary>The user's decisions about processors of others, on disk: <c>trusted-processors.json</c>.</summary>
/// <param name="file">Full path of the file; need not exist.</param>
public sealed class TrustStore(string file)
{
    private const int Schema = 1;

    private static readonly JsonSerializerOptions Form = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>All decisions.</summary>
    /// <exception cref="HostingException">The file cannot be read or understood; nothing is trusted then.</exception>
    public IReadOnlyList<TrustEntry> Load()
    {
        try
        {
            if (!File.Exists(file))
            {
                return [];
            }

            Content? content = JsonSerializer.Deserialize<Content>(File.ReadAllBytes(file), Form);
            return content switch
            {
                { Schema: Schema, Entries: not null } when content.Entries.All(IsWhole) => content.Entries,
                { Schema: > Schema } => throw new HostingException($"{file}: was written by a newer LiveStems; use that one, or move the file away to decide anew"),
                _ => throw new HostingException($"{file}: is not understood; move it away to decide anew"),
            };
        }
        catch (Exception fault) when (fault is JsonException or IOException or UnauthorizedAccessException)
        {
            throw new HostingException($"{file}: cannot be read ({fault.Message.ReplaceLineEndings(" ")}); move it away to decide anew", fault);
        }
    }

    /// <summary>The decision about a file's present content, or null.</summary>
    public TrustEntry? Find(AssemblyFacts facts) => Load().FirstOrDefault(entry => entry.IsAbout(facts));

    /// <summary>Puts a decision in the place of every earlier one about the same content. Atomic.</summary>
    /// <exception cref="HostingException">The file cannot be read or written; the decisions are as they were.</exception>
    public void Put(TrustEntry entry)
    {
        IEnumerable<TrustEntry> others = Load().Where(other => other.Sha256 != entry.Sha256 || other.File != entry.File);
        Content content = new(Schema, [.. others.Append(entry).OrderBy(each => each.File, StringComparer.Ordinal).ThenBy(each => each.DecidedAt)]);
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            string beside = $"{file}.{Environment.ProcessId}.saving";
            using (FileStream stream = new(beside, FileMode.Create, FileAccess.Write))
            {
                JsonSerializer.Serialize(stream, content, Form);
                stream.Flush(flushToDisk: true);
            }

            File.Move(beside, file, overwrite: true);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new HostingException($"{file}: cannot be written ({fault.Message})", fault);
        }
    }

    private static bool IsWhole(TrustEntry? entry) => entry is { File: not null, Sha256: not null, Companions: not null, Processors: not null };

    private sealed record Content(int Schema, TrustEntry[] Entries);
}
