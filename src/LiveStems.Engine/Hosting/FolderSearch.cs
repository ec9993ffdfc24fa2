namespace LiveStems.Engine.Hosting;

/// <summary>Finds the files of the processors folder that hold processors, or should.</summary>
internal static class FolderSearch
{
    /// <summary>
    /// Assemblies in the folder and in folders directly below. Companions of others, and assemblies that have nothing to do
    /// with the contract, are passed over in folders below, where whole builds lie; in the folder itself they are told.
    /// </summary>
    public static IEnumerable<AssemblyFacts> In(string folder)
    {
        string[] folders;
        try
        {
            folders = Directory.Exists(folder) ? [folder, .. Directory.EnumerateDirectories(folder).Order(StringComparer.Ordinal)] : [];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [];
        }

        return folders.SelectMany(each => InOne(each, isTop: each == folder));
    }

    private static IEnumerable<AssemblyFacts> InOne(string folder, bool isTop)
    {
        string[] files;
        try
        {
            files = [.. Directory.EnumerateFiles(folder, "*.dll").Order(StringComparer.Ordinal)];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [];
        }

        AssemblyFacts[] facts = [.. files.Where(file => SharedAssemblies.Find(Path.GetFileNameWithoutExtension(file)) is null).Select(AssemblyExaminer.Examine)];
        HashSet<string> companions = [.. facts.SelectMany(each => each.Companions.Keys)];
        return facts
            .Where(each => each.Types.Count > 0 || (isTop && !companions.Contains(Path.GetFileName(each.File))))
            .Select(each => each is { Types.Count: 0, Fault: null } ? each with { Fault = "holds no processor: no class in it derives from LiveStems.Processing.Contract.Processor" } : each);
    }
}
