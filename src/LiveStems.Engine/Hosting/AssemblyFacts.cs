namespace LiveStems.Engine.Hosting;

/// <summary>What an assembly says of itself, read from its metadata without running any of it.</summary>
/// <param name="File">Full path.</param>
/// <param name="Name">Name of the assembly.</param>
/// <param name="Version">Version of the assembly, as written.</param>
/// <param name="Author">Who its author says made it (the company attribute); empty when it does not say. Not proven by anything.</param>
/// <param name="Sha256">SHA-256 of the file (FIPS 180-4), 64 lower-case hexadecimal digits.</param>
/// <param name="Companions">Files beside it that it needs, by name, with their SHA-256: loaded and trusted together with it.</param>
/// <param name="ContractVersion">Version of <c>LiveStems.Processing</c> that it was built against; null when it refers to none.</param>
/// <param name="Types">Full names of the processors in it.</param>
/// <param name="Asks">What it refers to beyond arithmetic, in words (files, networking, native code) or, where there is none, by the name of the type. Empty when nothing.</param>
/// <param name="Fault">Why it cannot be loaded, one line; null when it can.</param>
public sealed record AssemblyFacts(
    string File,
    string Name,
    string Version,
    string Author,
    string Sha256,
    IReadOnlyDictionary<string, string> Companions,
    Version? ContractVersion,
    IReadOnlyList<string> Types,
    IReadOnlyList<string> Asks,
    string? Fault)
{
    /// <summary>Tells one build from the next, with all that belongs to it.</summary>
    internal string Build => Companions.Count == 0 ? Sha256 : $"{Sha256} {string.Join(' ', Companions.Values)}";

    /// <summary>Only a name, a hash and a reason why nothing can be done with it.</summary>
    internal static AssemblyFacts Unusable(string file, string sha256, string fault) => new(
        file, Path.GetFileNameWithoutExtension(file), string.Empty, string.Empty, sha256,
        new SortedDictionary<string, string>(StringComparer.Ordinal), null, [], [], fault);
}
