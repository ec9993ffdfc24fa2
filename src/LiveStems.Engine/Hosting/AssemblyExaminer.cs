using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>Looks into a file that may hold processors, and runs none of it.</summary>
public static class AssemblyExaminer
{
    private const string ContractName = "LiveStems.Processing";
    private const string ProcessorSpace = "LiveStems.Processing.Contract";

    // No compiler comes near it; tables that were made by hand can stand in a circle.
    private const int DeepestNesting = 64;

    /// <summary>Reads a file. What is wrong with it stands in <see cref="AssemblyFacts.Fault"/>.</summary>
    public static AssemblyFacts Examine(string file)
    {
        byte[] bytes;
        try
        {
            bytes = File.ReadAllBytes(file);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return AssemblyFacts.Unusable(file, string.Empty, $"cannot be read: {fault.Message}");
        }

        return Examine(file, bytes);
    }

    internal static AssemblyFacts Examine(string file, byte[] bytes)
    {
        string sha256 = Sha256(bytes);
        try
        {
            using PEReader image = new(new MemoryStream(bytes, writable: false));
            return !image.HasMetadata || !image.GetMetadataReader().IsAssembly
                ? AssemblyFacts.Unusable(file, sha256, "is no .NET assembly; a processor is a class library built for LiveStems.Processing")
                : Read(file, sha256, image);
        }
        catch (Exception fault) when (IsOfDamage(fault))
        {
            return AssemblyFacts.Unusable(file, sha256, "is no .NET assembly, or a damaged one; copy or build it anew");
        }
    }

    /// <summary>What readers of metadata throw where the tables make no sense.</summary>
    internal static bool IsOfDamage(Exception fault) =>
        fault is BadImageFormatException or ArgumentException or InvalidOperationException or OverflowException or NotSupportedException or IndexOutOfRangeException;

    internal static string Sha256(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    private static AssemblyFacts Read(string file, string sha256, PEReader image)
    {
        MetadataReader metadata = image.GetMetadataReader();
        AssemblyDefinition assembly = metadata.GetAssemblyDefinition();
        Companions companions = Companions.Of(file, metadata);
        Version? contract = metadata.AssemblyReferences
            .Select(metadata.GetAssemblyReference)
            .Where(reference => metadata.StringComparer.Equals(reference.Name, ContractName))
            .Select(reference => reference.Version)
            .FirstOrDefault();
        return new AssemblyFacts(
            file,
            metadata.GetString(assembly.Name),
            assembly.Version.ToString(3),
            Attribute(metadata, "AssemblyCompanyAttribute") ?? string.Empty,
            sha256,
            companions.Hashes,
            contract,
            [.. metadata.TypeDefinitions.Where(type => IsProcessor(metadata, type)).Select(type => FullName(metadata, type))],
            [.. AssemblyQuestions.Of(metadata).Concat(companions.Asks).Distinct().Order(StringComparer.Ordinal)],
            FaultOf(image.PEHeaders) ?? SharedAssemblies.FaultOf(metadata) ?? companions.Fault);
    }

    // Images compiled ahead of time for Linux, macOS and others have the machine masked (ECMA-335 knows nothing of it; the
    // runtime's pedecoder.h does): such an image still holds the portable code and runs anywhere.
    private static string? FaultOf(PEHeaders headers)
    {
        Machine machine = headers.CoffHeader.Machine;
        bool isPortable = machine == Machine.I386 && headers.CorHeader is { } header && !header.Flags.HasFlag(CorFlags.Requires32Bit);
        Architecture? wanted = machine switch
        {
            Machine.I386 => isPortable ? null : Architecture.X86,
            Machine.Amd64 => Architecture.X64,
            Machine.Arm64 => Architecture.Arm64,
            Machine.Arm or Machine.ArmThumb2 => Architecture.Arm,
            _ => null,
        };
        return wanted is null || wanted == RuntimeInformation.ProcessArchitecture
            ? null
            : $"was built for {wanted} processors and this machine has {RuntimeInformation.ProcessArchitecture}; build it for any";
    }

    private static bool IsProcessor(MetadataReader metadata, TypeDefinitionHandle handle)
    {
        TypeDefinition type = metadata.GetTypeDefinition(handle);
        if (type.Attributes.HasFlag(TypeAttributes.Abstract) || type.GetGenericParameters().Count > 0)
        {
            return false;
        }

        for (int depth = 0; depth < 16 && !type.BaseType.IsNil; depth++)
        {
            if (type.BaseType.Kind == HandleKind.TypeReference)
            {
                TypeReference parent = metadata.GetTypeReference((TypeReferenceHandle)type.BaseType);
                return metadata.StringComparer.Equals(parent.Name, nameof(Processor)) && metadata.StringComparer.Equals(parent.Namespace, ProcessorSpace);
            }

            if (type.BaseType.Kind != HandleKind.TypeDefinition)
            {
                return false;
            }

            type = metadata.GetTypeDefinition((TypeDefinitionHandle)type.BaseType);
        }

        return false;
    }

    private static string FullName(MetadataReader metadata, TypeDefinitionHandle handle, int depth = 0)
    {
        if (depth > DeepestNesting)
        {
            throw new BadImageFormatException("types stand in each other without end");
        }

        TypeDefinition type = metadata.GetTypeDefinition(handle);
        string name = metadata.GetString(type.Name);
        TypeDefinitionHandle outer = type.GetDeclaringType();
        string space = metadata.GetString(type.Namespace);
        return !outer.IsNil ? FullName(metadata, outer, depth + 1) + "+" + name : space.Length == 0 ? name : $"{space}.{name}";
    }

    // An attribute's value with one string (ECMA-335 II.23.3): a prolog of two bytes, then the string.
    private static string? Attribute(MetadataReader metadata, string name)
    {
        foreach (CustomAttributeHandle handle in metadata.GetCustomAttributes(EntityHandle.AssemblyDefinition))
        {
            if (AssemblyQuestions.NameOf(metadata, handle) == name)
            {
                BlobReader value = metadata.GetBlobReader(metadata.GetCustomAttribute(handle).Value);
                return value.ReadUInt16() == 1 ? value.ReadSerializedString() : null;
            }
        }

        return null;
    }
}
