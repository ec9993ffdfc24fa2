using System.Reflection;
using System.Reflection.Metadata;
using LiveStems.Dsp;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// What the program gives to processors of others itself, whatever lies beside them: the contract and the signal maths, in one
/// version by semantic versioning.
/// </summary>
internal static class SharedAssemblies
{
    private static readonly (string Name, Assembly Assembly)[] All = [.. new[] { typeof(Processor), typeof(Decibels) }.Select(type => (type.Assembly.GetName().Name!, type.Assembly))];

    /// <summary>The program's own assembly of a name; null where it gives none.</summary>
    public static Assembly? Find(string? name) => Array.Find(All, each => each.Name == name).Assembly;

    /// <summary>Why an assembly cannot run with the versions that are here, in one line; null when it can.</summary>
    public static string? FaultOf(MetadataReader metadata) => metadata.AssemblyReferences
        .Select(metadata.GetAssemblyReference)
        .Select(reference => Find(metadata.GetString(reference.Name)) is { } here ? FaultOf(here.GetName(), reference.Version) : null)
        .FirstOrDefault(fault => fault is not null);

    private static string? FaultOf(AssemblyName here, Version wanted)
    {
        Version version = here.Version!;
        return wanted.Major == version.Major && wanted.Minor <= version.Minor ? null : wanted > version
            ? $"was built for {here.Name} {wanted.ToString(3)} and this program has {version.ToString(3)}; use a newer LiveStems, or a build for this one"
            : $"was built for {here.Name} {wanted.ToString(3)}, which {version.ToString(3)} no longer runs; ask its author for a newer build";
    }
}
