using System.Reflection;
using System.Reflection.Metadata;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// What code refers to beyond arithmetic, found in the tables of its metadata (ECMA-335 II.22) and told in the words of
/// <see cref="AssemblyWords"/>.
/// </summary>
/// <remarks>It tells what an author uses. It is no fence: code can find types by their names while it runs, which is listed too.</remarks>
internal static class AssemblyQuestions
{
    public static IEnumerable<string> Of(MetadataReader metadata)
    {
        SortedSet<string> asks = new(StringComparer.Ordinal);
        foreach (TypeReferenceHandle handle in metadata.TypeReferences)
        {
            TypeReference type = metadata.GetTypeReference(handle);
            Add(asks, AssemblyWords.Of(metadata.GetString(type.Namespace), metadata.GetString(type.Name)));
        }

        // Types that it passes on to whoever refers to them here.
        foreach (ExportedTypeHandle handle in metadata.ExportedTypes)
        {
            ExportedType type = metadata.GetExportedType(handle);
            Add(asks, AssemblyWords.Of(metadata.GetString(type.Namespace), metadata.GetString(type.Name)));
        }

        foreach (MemberReferenceHandle handle in metadata.MemberReferences)
        {
            Add(asks, WordOf(metadata, metadata.GetMemberReference(handle)));
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
            asks.Add(AssemblyWords.ByAddress);
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

    private static string? WordOf(MetadataReader metadata, MemberReference member)
    {
        string name = metadata.GetString(member.Name);
        if (name is "LoadUnsafe" or "StoreUnsafe")
        {
            // Vectors from and to an address, whatever lies there.
            return AssemblyWords.ByAddress;
        }

        if (member.Parent.Kind != HandleKind.TypeReference)
        {
            return null;
        }

        TypeReference type = metadata.GetTypeReference((TypeReferenceHandle)member.Parent);
        return AssemblyWords.OfMember(metadata.GetString(type.Namespace), metadata.GetString(type.Name), name);
    }

    private static void Add(SortedSet<string> asks, string? word)
    {
        if (word is not null)
        {
            asks.Add(word);
        }
    }
}
