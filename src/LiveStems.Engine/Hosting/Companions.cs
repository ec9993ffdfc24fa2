using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace LiveStems.Engine.Hosting;

/// <summary>The assemblies beside a processor that it needs, and those that are nowhere.</summary>
internal sealed class Companions
{
    private readonly SortedDictionary<string, string> hashes = new(StringComparer.Ordinal);
    private readonly SortedSet<string> asks = new(StringComparer.Ordinal);
    private readonly string folder;

    private Companions(string folder) => this.folder = folder;

    public IReadOnlyDictionary<string, string> Hashes => hashes;

    public IEnumerable<string> Asks => asks;

    public string? Fault { get; private set; }

    /// <summary>Follows the references of an assembly, and theirs.</summary>
    public static Companions Of(string file, MetadataReader metadata)
    {
        Companions companions = new(Path.GetDirectoryName(Path.GetFullPath(file))!);
        companions.Follow(metadata, Path.GetFileName(file));
        return companions;
    }

    private void Follow(MetadataReader metadata, string of)
    {
        foreach (AssemblyReferenceHandle handle in metadata.AssemblyReferences)
        {
            string name = metadata.GetString(metadata.GetAssemblyReference(handle).Name);
            string beside = Path.Combine(folder, name + ".dll");
            if (SharedAssemblies.Find(name) is not null || hashes.ContainsKey(name + ".dll"))
            {
                continue;
            }

            if (File.Exists(beside))
            {
                Add(beside);
            }
            else if (!IsOfRuntime(name))
            {
                Fault ??= $"needs {PlainText.Of(name)}.dll, which is not beside {PlainText.Of(of)}; copy it there";
            }
        }
    }

    private void Add(string file)
    {
        byte[] bytes;
        try
        {
            bytes = File.ReadAllBytes(file);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // Moved away or locked between two looks; without its hash nobody can have trusted it.
            Fault ??= $"needs {Name(file)}, which cannot be read: {PlainText.Of(fault.Message)}";
            return;
        }

        hashes[Path.GetFileName(file)] = AssemblyExaminer.Sha256(bytes);
        try
        {
            using PEReader image = new(new MemoryStream(bytes, writable: false));
            if (!image.HasMetadata)
            {
                Fault ??= $"needs {Name(file)}, which is no .NET assembly; copy the right one there";
                return;
            }

            MetadataReader metadata = image.GetMetadataReader();
            asks.UnionWith(AssemblyQuestions.Of(metadata));
            Fault ??= SharedAssemblies.FaultOf(metadata) is { } fault ? $"needs {Name(file)}, which {fault}" : null;
            Follow(metadata, Path.GetFileName(file));
        }
        catch (Exception fault) when (AssemblyExaminer.IsOfDamage(fault))
        {
            Fault ??= $"needs {Name(file)}, which is damaged; copy it anew";
        }
    }

    private static string Name(string file) => PlainText.Of(Path.GetFileName(file));

    // What the runtime's own folder holds; the program's other parts and packages are not offered to outside code.
    private static bool IsOfRuntime(string name) =>
        File.Exists(Path.Combine(Path.GetDirectoryName(typeof(object).Assembly.Location)!, name + ".dll"));
}
