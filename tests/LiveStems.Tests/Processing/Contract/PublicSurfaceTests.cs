using System.Reflection;
using LiveStems.Dsp;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Architecture;
using Xunit;

namespace LiveStems.Tests.Processing.Contract;

/// <summary>What authors build against stays as it is, or its version says so.</summary>
public class PublicSurfaceTests
{
    private const BindingFlags Declared = BindingFlags.DeclaredOnly | BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;

    private static readonly string Folder = Path.Combine(SourceTree.Root, "tests", "LiveStems.Tests", "Processing", "Contract");

    [Fact]
    public void PublicSurfaceOfTheContractIsTheCommittedOne() =>
        AssertCommitted("PublicSurface.txt", typeof(Processor).Assembly, type => type.Namespace == typeof(Processor).Namespace);

    [Fact]
    public void PublicSurfaceOfTheSignalMathsIsTheCommittedOne() =>
        AssertCommitted("PublicSurfaceOfDsp.txt", typeof(Decibels).Assembly, _ => true);

    [Fact]
    public void ContractAndSignalMathsHaveOneVersion() =>
        Assert.Equal(typeof(Processor).Assembly.GetName().Version, typeof(Decibels).Assembly.GetName().Version);

    private static void AssertCommitted(string file, Assembly assembly, Func<Type, bool> isOffered)
    {
        string path = Path.Combine(Folder, file);
        string now = string.Join('\n', Lines(assembly, isOffered)) + "\n";
        string kept = File.Exists(path) ? File.ReadAllText(path) : string.Empty;
        if (now != kept)
        {
            // Laid beside for whoever means the change: raise ContractVersion in Directory.Build.props and move it over.
            File.WriteAllText(path + ".now", now);
        }

        Assert.Equal(kept, now);
    }

    private static IEnumerable<string> Lines(Assembly assembly, Func<Type, bool> isOffered)
    {
        yield return $"{assembly.GetName().Name} {assembly.GetName().Version!.ToString(3)}";
        foreach (Type type in assembly.GetExportedTypes().Where(isOffered).OrderBy(type => type.FullName, StringComparer.Ordinal))
        {
            yield return $"{(type.IsInterface ? "interface" : type.IsEnum ? "enum" : type.IsValueType ? "struct" : type.IsAbstract && type.IsSealed ? "static class" : type.IsAbstract ? "abstract class" : "class")} {type.FullName}";
            foreach (string member in type.GetMembers(Declared).Where(IsOffered).Select(member => $"    {Describe(type, member)}").Order(StringComparer.Ordinal))
            {
                yield return member;
            }
        }
    }

    private static string Describe(Type type, MemberInfo member) => member switch
    {
        FieldInfo { IsLiteral: true } field => $"{field} = {field.GetRawConstantValue()}",
        MethodBase method => $"{(method.IsStatic ? "static " : string.Empty)}{(method.IsAbstract ? "abstract " : method.IsVirtual && !method.IsFinal ? "virtual " : string.Empty)}{(method.IsPublic ? string.Empty : "protected ")}{method}",
        _ => $"{member}",
    };

    private static bool IsOffered(MemberInfo member) => member switch
    {
        MethodBase method => method.IsPublic || method.IsFamily || method.IsFamilyOrAssembly,
        FieldInfo field => field.IsPublic || field.IsFamily,
        _ => false,
    };
}
