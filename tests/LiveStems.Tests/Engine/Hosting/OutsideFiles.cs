using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;
using System.Reflection.PortableExecutable;
using System.Text;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Architecture;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>A processors folder of its own, with assemblies built beside the tests, or spoilt copies of them.</summary>
internal sealed class OutsideFiles : IDisposable
{
    public OutsideFiles()
    {
        Root = Directory.CreateTempSubdirectory("livestems-outside-").FullName;
        Places = new HostingPlaces(Path.Combine(Root, "processors"), Path.Combine(Root, "settings", "trusted-processors.json"));
        Directory.CreateDirectory(Places.Folder);
    }

    public string Root { get; }

    public HostingPlaces Places { get; }

    /// <summary>Where the build has put an outside assembly.</summary>
    public static string Built(string name)
    {
        // …/bin/Release/net10.0/ of the tests, and the same of the other project.
        string[] parts = AppContext.BaseDirectory.TrimEnd(Path.DirectorySeparatorChar).Split(Path.DirectorySeparatorChar);
        return Path.Combine(SourceTree.Root, "tests", "Outside", name, "bin", parts[^2], parts[^1], name + ".dll");
    }

    /// <summary>The maker of one processor of a built assembly, trusted without further ado.</summary>
    public static ProcessorMaker Maker(string assembly, string id) => Makers(assembly).Single(maker => maker.Description.Id == id);

    /// <summary>The makers of all processors of a built assembly.</summary>
    public static IReadOnlyList<ProcessorMaker> Makers(string assembly) => OutsideLoader.Load(AssemblyExaminer.Examine(Built(assembly)));

    /// <summary>The maker of one processor of a built assembly that runs in a process of its own.</summary>
    public static ProcessorMaker MakerApart(string assembly, string id) => MakersApart(assembly).Single(maker => maker.Description.Id == id);

    /// <summary>The makers of all processors of a built assembly, which share a process of their own.</summary>
    public static IReadOnlyList<ProcessorMaker> MakersApart(string assembly, TimeSpan? patience = null)
    {
        AssemblyFacts facts = AssemblyExaminer.Examine(Built(assembly));
        IsolatedAssembly apart = patience is { } limit ? new IsolatedAssembly(facts) { OfflinePatience = limit } : new IsolatedAssembly(facts);
        return apart.Makers(IsolatedAssembly.Describe(facts));
    }

    /// <summary>Every processor of the program and some outside ones.</summary>
    public static ProcessorCatalogue Catalogue(params ProcessorMaker[] outside) => new(BuiltInProcessors.Makers.Concat(outside));

    /// <summary>The assembly Scaled, built with another factor in the place of 0.375.</summary>
    public static Func<byte[], byte[]> ScaledBy(float factor) => bytes =>
    {
        byte[] changed = [.. bytes];

        // ldc.r4 is 0x22 and four bytes (ECMA-335 III.3.40).
        byte[] load = [0x22, .. BitConverter.GetBytes(0.375f)];
        for (int at = changed.AsSpan().IndexOf(load); at >= 0; at = changed.AsSpan().IndexOf(load))
        {
            BitConverter.TryWriteBytes(changed.AsSpan(at + 1), factor);
        }

        return changed;
    };

    /// <summary>Puts a file into the processors folder.</summary>
    public string Put(string built, string? file = null, Func<byte[], byte[]>? change = null)
    {
        string path = Path.Combine(Places.Folder, file ?? built + ".dll");
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        byte[] bytes = File.ReadAllBytes(Built(built));
        File.WriteAllBytes(path, change is null ? bytes : change(bytes));
        return path;
    }

    public ProcessorHost Open() => ProcessorHost.Open(Places);

    public OutsideAssembly Single() => Open().Assemblies.Single();

    /// <summary>Says yes to everything in the folder.</summary>
    public void TrustAll()
    {
        ProcessorHost host = Open();
        foreach (OutsideAssembly assembly in host.Assemblies)
        {
            host.Decide(Decision(assembly.Facts, true));
        }
    }

    /// <summary>A decision about a file as it is now.</summary>
    public static TrustEntry Decision(AssemblyFacts facts, bool isTrusted, params string[] processors) =>
        new(Path.GetFileName(facts.File), facts.Sha256, facts.Companions, isTrusted, processors, DateTimeOffset.UnixEpoch, null);

    public void Dispose() => Directory.Delete(Root, recursive: true);

    /// <summary>The same assembly, built for another version of the contract or of the signal maths.</summary>
    public static byte[] ForContract(byte[] bytes, Version version, string of = "LiveStems.Processing")
    {
        byte[] changed = [.. bytes];
        using PEReader image = new(new MemoryStream(bytes));
        MetadataReader metadata = image.GetMetadataReader();
        AssemblyReferenceHandle handle = metadata.AssemblyReferences.First(each => metadata.GetString(metadata.GetAssemblyReference(each).Name) == of);

        // A row of the AssemblyRef table begins with the version, four numbers of two bytes (ECMA-335 II.22.5).
        int row = image.PEHeaders.MetadataStartOffset + metadata.GetTableMetadataOffset(TableIndex.AssemblyRef)
            + (MetadataTokens.GetRowNumber(handle) - 1) * metadata.GetTableRowSize(TableIndex.AssemblyRef);
        BitConverter.TryWriteBytes(changed.AsSpan(row), (ushort)version.Major);
        BitConverter.TryWriteBytes(changed.AsSpan(row + 2), (ushort)version.Minor);
        return changed;
    }

    /// <summary>The same assembly, for processors of another kind than any that this test can run on.</summary>
    public static byte[] ForOtherMachine(byte[] bytes)
    {
        byte[] changed = [.. bytes];
        using PEReader image = new(new MemoryStream(bytes));
        BitConverter.TryWriteBytes(changed.AsSpan(image.PEHeaders.CoffHeaderStartOffset), (ushort)Machine.Arm);
        return changed;
    }

    /// <summary>The same assembly, which needs another one that is nowhere.</summary>
    public static byte[] WithMissingNeed(byte[] bytes) => Replace(bytes, "System.Runtime\0"u8, "Sistem.Runtime\0"u8);

    /// <summary>The same assembly with another content and the same meaning.</summary>
    public static byte[] Rebuilt(byte[] bytes) => Replace(bytes, Encoding.UTF8.GetBytes("The Kelp Ledger"), Encoding.UTF8.GetBytes("The Kelp Lodger"));

    /// <summary>The same assembly with another author, fifteen bytes of UTF-8.</summary>
    public static Func<byte[], byte[]> SignedBy(string author) => bytes => Replace(bytes, "The Kelp Ledger"u8, Encoding.UTF8.GetBytes(author));

    /// <summary>An assembly of two processors each of which stands in the other, as no compiler makes it (ECMA-335 II.22.32 forbids it).</summary>
    public static byte[] Circular()
    {
        MetadataBuilder metadata = new();
        metadata.AddModule(0, metadata.GetOrAddString("Circle.dll"), metadata.GetOrAddGuid(Guid.Parse("5c1fd6b0-3f7f-4b8e-9a37-0d2f5b6f7a11")), default, default);
        metadata.AddAssembly(metadata.GetOrAddString("Circle"), new Version(1, 0, 0, 0), default, default, default, AssemblyHashAlgorithm.None);
        AssemblyReferenceHandle contract = metadata.AddAssemblyReference(
            metadata.GetOrAddString("LiveStems.Processing"), typeof(Processor).Assembly.GetName().Version!, default, default, default, default);
        TypeReferenceHandle processor = metadata.AddTypeReference(contract, metadata.GetOrAddString("LiveStems.Processing.Contract"), metadata.GetOrAddString("Processor"));
        TypeDefinitionHandle Add(string name, TypeAttributes attributes, EntityHandle parent) => metadata.AddTypeDefinition(
            attributes, default, metadata.GetOrAddString(name), parent, MetadataTokens.FieldDefinitionHandle(1), MetadataTokens.MethodDefinitionHandle(1));
        Add("<Module>", default, default);
        TypeDefinitionHandle one = Add("One", TypeAttributes.NestedPublic, processor);
        TypeDefinitionHandle two = Add("Two", TypeAttributes.NestedPublic, processor);
        metadata.AddNestedType(one, two);
        metadata.AddNestedType(two, one);
        BlobBuilder image = new();
        new ManagedPEBuilder(PEHeaderBuilder.CreateLibraryHeader(), new MetadataRootBuilder(metadata), new BlobBuilder()).Serialize(image);
        return image.ToArray();
    }

    private static byte[] Replace(byte[] bytes, ReadOnlySpan<byte> what, ReadOnlySpan<byte> by)
    {
        byte[] changed = [.. bytes];
        int at = changed.AsSpan().IndexOf(what);
        by.CopyTo(changed.AsSpan(at));
        return changed;
    }
}
