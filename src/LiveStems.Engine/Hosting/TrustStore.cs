using System.Text.Json;
using LiveStems.Albums.Storage;

namespace LiveStems.Engine.Hosting;

/// <summary>The user's decisions about processors of others, on disk: <c>trusted-processors.json</c>.</summary>
/// <param name="file">Full path of the file; need not exist.</param>
public sealed class TrustStore(string file)
{
    private const int Schema = 1;

    private static readonly JsonSerializerOptions Form = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>All decisions.</summary>
    /// <exception cref="HostingException">The file cannot be read or understood; nothing is trusted then.</exception>
    public TrustDecisions Load()
    {
        try
        {
            if (!File.Exists(file))
            {
                return TrustDecisions.None;
            }

            Content? content = JsonSerializer.Deserialize<Content>(File.ReadAllBytes(file), Form);
            return content switch
            {
                { Schema: Schema, Entries: not null } when content.Entries.All(IsWhole) => new TrustDecisions(content.Entries, content.Authors ?? []),
                { Schema: > Schema } => throw new HostingException($"{file}: was written by a newer LiveStems; use that one, or move the file away to decide anew"),
                _ => throw new HostingException($"{file}: is not understood; move it away to decide anew"),
            };
        }
        catch (Exception fault) when (fault is JsonException or IOException or UnauthorizedAccessException)
        {
            throw new HostingException($"{file}: cannot be read ({fault.Message.ReplaceLineEndings(" ")}); move it away to decide anew", fault);
        }
    }

    /// <summary>
    /// Puts a decision in the place of every earlier one about the same content, under whatever name, and about the same file
    /// beside other companions. Atomic.
    /// </summary>
    /// <exception cref="HostingException">The file cannot be read or written; the decisions are as they were.</exception>
    public void Put(TrustEntry entry)
    {
        TrustDecisions now = Load();
        IEnumerable<TrustEntry> others = now.Entries.Where(other => !other.IsAboutTheSame(entry) && (other.Sha256 != entry.Sha256 || other.File != entry.File));
        Save(now with { Entries = [.. others.Append(entry).OrderBy(each => each.File, StringComparer.Ordinal).ThenBy(each => each.DecidedAt)] });
    }

    /// <summary>Says which files and folders hold the user's own work, so that every build in them is trusted. Atomic.</summary>
    /// <exception cref="HostingException">The file cannot be read or written; the decisions are as they were.</exception>
    public void PutAuthors(IEnumerable<string> paths) => Save(Load() with { Authors = [.. paths.Order(StringComparer.Ordinal)] });

    /// <summary>Takes decisions back, and that a file is the user's own work. Atomic.</summary>
    /// <param name="isMeant">Says which decisions.</param>
    /// <param name="path">The file.</param>
    /// <exception cref="HostingException">The file cannot be read or written; the decisions are as they were.</exception>
    public void Remove(Func<TrustEntry, bool> isMeant, string path)
    {
        TrustDecisions now = Load();
        Save(new TrustDecisions([.. now.Entries.Where(entry => !isMeant(entry))], [.. now.Authors.Where(author => author != path)]));
    }

    private void Save(TrustDecisions decisions)
    {
        Content content = new(Schema, [.. decisions.Entries]) { Authors = [.. decisions.Authors] };
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            SafeFile.Replace(file, JsonSerializer.SerializeToUtf8Bytes(content, Form));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new HostingException($"{file}: cannot be written ({fault.Message})", fault);
        }
    }

    private static bool IsWhole(TrustEntry? entry) => entry is { File: not null, Sha256: not null, Companions: not null, Processors: not null };

    private sealed record Content(int Schema, TrustEntry[] Entries)
    {
        public string[]? Authors { get; init; }
    }
}

/// <summary>What the user has decided.</summary>
/// <param name="Entries">About files with their contents.</param>
/// <param name="Authors">Full paths of files and folders that hold the user's own work: every build of it is trusted.</param>
public sealed record TrustDecisions(IReadOnlyList<TrustEntry> Entries, IReadOnlyList<string> Authors)
{
    /// <summary>Nothing decided.</summary>
    public static TrustDecisions None { get; } = new([], []);

    /// <summary>The latest decision about a file with this very content; null when there is none.</summary>
    public TrustEntry? About(AssemblyFacts facts) => Entries.Where(entry => entry.IsAbout(facts)).OrderBy(entry => entry.DecidedAt).LastOrDefault();

    /// <summary>True when a file is the user's own work.</summary>
    public bool IsOwnWork(string file) => Authors.Contains(file) || OwnFolderOf(file) is not null;

    /// <summary>The folder of a file where all of it is the user's own work; null otherwise.</summary>
    internal string? OwnFolderOf(string file) => Authors.FirstOrDefault(author => author == Path.GetDirectoryName(file));
}
