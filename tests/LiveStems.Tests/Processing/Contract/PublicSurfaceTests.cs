using System.Reflection;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Architecture;
using Xunit;

namespace LiveStems.Tests.Processing.Contract;

/// <summary>What authors build against stays as it is, or its version says so.</summary>
public class PublicSurfaceTests
{
    private const BindingFlags Declared = BindingFlags.DeclaredOnly | BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;

    private static readonly string Kept = Path.Combine(SourceTree.Root, "tests", "LiveStems.Tests", "Processing", "Contract", "PublicSurface.txt");

    [Fact]
    public void PublicSurfaceOfTheContractIsTheCommittedOne()
    {
        string now = string.Join('\n', Lines()) + "\n";
        string kept = File.Exists(Kept) ? File.ReadAllText(Kept) : string.Empty;
        if (now != kept)
        {
            // Laid beside for whoever means the change: raise the version in LiveStems.Processing.csproj and move it over.
            File.WriteAllText(Kept + ".now", now);
        }

        Assert.Equal(kept, now);
    }

    private static IEnumerable<string> Lines()
    {
        yield return $"LiveStems.Processing {typeof(Processor).Assembly.GetName().Version!.ToString(3)}";
        foreach (Type type in typeof(Processor).Assembly.GetExportedTypes().Where(type => type.Namespace == typeof(Processor).Namespace).OrderBy(type => type.FullName, StringComparer.Ordinal))
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
