using System.Reflection;
using System.Reflection.Metadata;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// What code refers to beyond arithmetic, found in the tables of its metadata (ECMA-335 II.22).
/// </summary>
/// <remarks>It tells what an honest author uses. It is no fence: code can find types by their names while it runs, which is listed too.</remarks>
internal static class AssemblyQuestions
{
    private const string ByAddress = "memory by address (unsafe code)";

    private static readonly string[] FileTypes =
        ["File", "FileInfo", "FileStream", "Directory", "DirectoryInfo", "StreamWriter", "StreamReader", "FileSystemWatcher", "DriveInfo", "RandomAccess"];

    // These reach beyond what they were given without a word of unsafe code.
    private static readonly string[] AddressTypes = ["MemoryMarshal", "CollectionsMarshal", "ImmutableCollectionsMarshal", "SequenceMarshal", "GCHandle"];

    private static readonly string[] NativeTypes = ["NativeLibrary", "Marshal", "NativeMemory", "SafeBuffer", "SafeHandle", "ComWrappers"];

    private static readonly string[] ReflectionTypes = ["Assembly", "MethodInfo", "MethodBase", "FieldInfo", "ConstructorInfo", "PropertyInfo"];

    public static IEnumerable<string> Of(MetadataReader metadata)
    {
        SortedSet<string> asks = new(StringComparer.Ordinal);
        foreach (TypeReferenceHandle handle in metadata.TypeReferences)
        {
            TypeReference type = metadata.GetTypeReference(handle);
            if (Word(metadata.GetString(type.Namespace), metadata.GetString(type.Name)) is { } word)
            {
                asks.Add(word);
            }
        }

        foreach (MethodDefinitionHandle handle in metadata.MethodDefinitions)
        {
            MethodDefinition method = metadata.GetMethodDefinition(handle);
            if (method.Attributes.HasFlag(MethodAttributes.PinvokeImpl) && !method.GetImport().Module.IsNil)
            {
                asks.Add($"native code ({PlainText.Of(metadata.GetString(metadata.GetModuleReference(method.GetImport().Module).Name))})");
            }
        }

        if (metadata.GetCustomAttributes(EntityHandle.ModuleDefinition).Any(handle => NameOf(metadata, handle) == "UnverifiableCodeAttribute"))
        {
            asks.Add(ByAddress);
        }

        return asks;
    }

    /// <summary>Name of an attribute's type.</summary>
    public static string NameOf(MetadataReader metadata, CustomAttributeHandle handle)
    {
        EntityHandle constructor = metadata.GetCustomAttribute(handle).Constructor;
        if (constructor.Kind != HandleKind.MemberReference)
        {
            return string.Empty;
        }

        EntityHandle parent = metadata.GetMemberReference((MemberReferenceHandle)constructor).Parent;
        return parent.Kind == HandleKind.TypeReference ? metadata.GetString(metadata.GetTypeReference((TypeReferenceHandle)parent).Name) : string.Empty;
    }

    private static string? Word(string space, string name) => space switch
    {
        "System.IO" => FileTypes.Contains(name) ? "files" : null,
        "System.Diagnostics" => name is "Process" or "ProcessStartInfo" ? "other programs" : null,
        "System.Threading" => name is "Thread" or "ThreadPool" or "Timer" ? "threads of its own" : null,
        "System.Threading.Tasks" => name is "Task" or "Parallel" or "TaskFactory" ? "threads of its own" : null,
        "System.Reflection" => ReflectionTypes.Contains(name) ? "code found by name while it runs (reflection)" : null,
        "System.Runtime.Loader" => "code loaded while it runs",
        "System.Runtime.InteropServices" => NativeTypes.Contains(name) ? "native memory or code" : AddressTypes.Contains(name) ? ByAddress : null,
        "System.Runtime.CompilerServices" => name is "Unsafe" ? ByAddress : name is "UnsafeAccessorAttribute" ? "code found by name while it runs (reflection)" : null,
        "System" => name switch { "Environment" => "the environment", "Activator" => "code found by name while it runs (reflection)", "Console" => "the terminal", _ => null },
        _ => Under(space, "System.Net") ? "networking"
            : Under(space, "System.Reflection.Emit") ? "code made while it runs"
            : Under(space, "Microsoft.Win32") ? "the registry"
            : Under(space, "System.IO") ? "files"
            : null,
    };

    private static bool Under(string space, string root) => space == root || space.StartsWith(root + '.', StringComparison.Ordinal);
}
