using System.Reflection;
using System.Runtime.Loader;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// One outside assembly with its companions, apart from the program and from others of its kind, and let go when nothing
/// refers to it any more. It shares the contract and the signal maths with the program.
/// </summary>
/// <remarks>Files are read into memory, compared with the hashes that were trusted, and never kept open: they can be replaced at any time.</remarks>
internal sealed class OutsideLoadContext(AssemblyFacts facts) : AssemblyLoadContext(facts.Name, isCollectible: true)
{
    /// <summary>True for what was loaded in such a context.</summary>
    public static bool Holds(Type type) => GetLoadContext(type.Assembly) is OutsideLoadContext;

    /// <summary>The build that a type came with, as <see cref="AssemblyFacts.Build"/> tells it; empty for what was not loaded in such a context.</summary>
    public static string BuildOf(Type type) => GetLoadContext(type.Assembly) is OutsideLoadContext own ? own.Build : string.Empty;

    private string Build => facts.Build;

    /// <summary>Loads the assembly.</summary>
    /// <exception cref="HostingException">The file is another than the one that was examined.</exception>
    public Assembly LoadTrusted() => Load(facts.File, facts.Sha256);

    protected override Assembly? Load(AssemblyName assemblyName)
    {
        if (SharedAssemblies.Find(assemblyName.Name) is { } shared)
        {
            return shared;
        }

        string file = assemblyName.Name + ".dll";
        return facts.Companions.TryGetValue(file, out string? sha256)
            ? Load(Path.Combine(Path.GetDirectoryName(facts.File)!, file), sha256)
            : null;
    }

    private Assembly Load(string file, string sha256)
    {
        byte[] bytes = File.ReadAllBytes(file);
        if (AssemblyExaminer.Sha256(bytes) != sha256)
        {
            throw new HostingException($"{Path.GetFileName(file)} has changed since it was looked at; try again");
        }

        string symbols = Path.ChangeExtension(file, ".pdb");
        using MemoryStream image = new(bytes, writable: false);
        using MemoryStream? debugging = File.Exists(symbols) ? new MemoryStream(File.ReadAllBytes(symbols), writable: false) : null;
        return LoadFromStream(image, debugging);
    }
}
