using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;
using LiveStems.Engine.Hosting;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>What code refers to is told before it runs: by a word, or by its own name; nothing but arithmetic is passed over.</summary>
public class AssemblyQuestionsTests
{
    private const string Reflection = "code found by name while it runs (reflection)";
    private const string Threads = "threads of its own";
    private const string ByAddress = "memory by address (unsafe code)";

    [Theory]
    [InlineData("System.IO", "File", "files")]
    [InlineData("System.IO", "Path", "files")]
    [InlineData("System.IO.Pipes", "NamedPipeClientStream", "files")]
    [InlineData("System.Xml", "XmlReader", "files")]
    [InlineData("System.Xml.Linq", "XDocument", "files")]
    [InlineData("System.Net.Sockets", "Socket", "networking")]
    [InlineData("System.Diagnostics", "Process", "other programs")]
    [InlineData("System", "Environment", "the environment")]
    [InlineData("System", "AppContext", "the environment")]
    [InlineData("System", "Console", "the terminal")]
    [InlineData("Microsoft.Win32", "Registry", "the registry")]
    [InlineData("System.Threading", "Thread", Threads)]
    [InlineData("System.Threading", "ThreadPool", Threads)]
    [InlineData("System.Threading", "Timer", Threads)]
    [InlineData("System.Threading", "PeriodicTimer", Threads)]
    [InlineData("System.Timers", "Timer", Threads)]
    [InlineData("System.Threading.Tasks", "Task`1", Threads)]
    [InlineData("System.Linq", "ParallelEnumerable", Threads)]
    [InlineData("System", "Activator", Reflection)]
    [InlineData("System.Reflection", "MethodInfo", Reflection)]
    [InlineData("System.Dynamic", "DynamicObject", Reflection)]
    [InlineData("Microsoft.CSharp.RuntimeBinder", "Binder", Reflection)]
    [InlineData("System.Runtime.CompilerServices", "UnsafeAccessorAttribute", Reflection)]
    [InlineData("System", "AppDomain", "code loaded while it runs")]
    [InlineData("System.Runtime.Loader", "AssemblyLoadContext", "code loaded while it runs")]
    [InlineData("System.Runtime.CompilerServices", "ModuleInitializerAttribute", "code that runs when it is loaded")]
    [InlineData("System.Reflection.Emit", "DynamicMethod", "code made while it runs")]
    [InlineData("System.Linq.Expressions", "Expression", "code made while it runs")]
    [InlineData("System.Runtime.InteropServices", "Marshal", "native memory or code")]
    [InlineData("System.Runtime.InteropServices", "NativeLibrary", "native memory or code")]
    [InlineData("System.Runtime.InteropServices", "UnmanagedCallersOnlyAttribute", "native memory or code")]
    [InlineData("System.Runtime.InteropServices", "MemoryMarshal", ByAddress)]
    [InlineData("System.Runtime.CompilerServices", "Unsafe", ByAddress)]
    public void EveryWordIsSaidOfWhatItStandsFor(string space, string type, string word) => Assert.Equal([word], AskedBy(space, type));

    [Theory]
    [InlineData("System.Threading", "Monitor", "System.Threading.Monitor")]
    [InlineData("System.Runtime.CompilerServices", "CallSite`1", "System.Runtime.CompilerServices.CallSite")]
    [InlineData("System.Diagnostics", "Stopwatch", "System.Diagnostics.Stopwatch")]
    [InlineData("System.Security.Cryptography", "RandomNumberGenerator", "System.Security.Cryptography.RandomNumberGenerator")]
    [InlineData("Microsoft.Nobody.Knows", "It\u202e", "Microsoft.Nobody.Knows.It\ufffd")]
    public void WhatHasNoWordIsToldByItsName(string space, string type, string name) => Assert.Equal([name], AskedBy(space, type));

    [Theory]
    [InlineData("System", "Math")]
    [InlineData("System", "ReadOnlySpan`1")]
    [InlineData("System", "ArgumentException")]
    [InlineData("System", "FlagsAttribute")]
    [InlineData("System", "Type")]
    [InlineData("System", "MulticastDelegate")]
    [InlineData("System.Collections.Generic", "List`1")]
    [InlineData("System.Linq", "Enumerable")]
    [InlineData("System.Numerics", "Vector`1")]
    [InlineData("System.Runtime.Intrinsics.X86", "Avx2")]
    [InlineData("System.Threading", "Volatile")]
    [InlineData("LiveStems.Dsp", "Decibels")]
    [InlineData("Kelp.Filters", "Shelf")]
    public void ArithmeticAndWhatIsReadByItselfIsPassedOver(string space, string type) => Assert.Empty(AskedBy(space, type));

    [Theory]
    [InlineData("System", "Type", "GetType", Reflection)]
    [InlineData("System", "Type", "InvokeMember", Reflection)]
    [InlineData("System", "Delegate", "CreateDelegate", Reflection)]
    [InlineData("System", "Delegate", "DynamicInvoke", Reflection)]
    [InlineData("System.Runtime.CompilerServices", "RuntimeHelpers", "GetUninitializedObject", Reflection)]
    [InlineData("System.Runtime.Intrinsics", "Vector256", "StoreUnsafe", ByAddress)]
    [InlineData("System", "Type", "GetTypeFromHandle", null)]
    [InlineData("System", "Delegate", "Combine", null)]
    [InlineData("System.Runtime.CompilerServices", "RuntimeHelpers", "InitializeArray", null)]
    [InlineData("System.Runtime.Intrinsics", "Vector256", "Create", null)]
    public void MembersTellWhereTypesDoNot(string space, string type, string member, string? word)
    {
        string[] words = word is null ? [] : [word];
        Assert.Equal(words, AskedBy(space, type, member));
    }

    [Fact]
    public void WorkedExamplesAskForNothing()
    {
        Assert.Empty(AssemblyExaminer.Examine(OutsideFiles.Built("Tilt")).Asks);
        Assert.Empty(AssemblyExaminer.Examine(OutsideFiles.Built("HoldBack")).Asks);
    }

    // The tables of an assembly that refers to one type, and perhaps to a member of it.
    private static IEnumerable<string> AskedBy(string space, string type, string? member = null)
    {
        MetadataBuilder metadata = new();
        metadata.AddModule(0, metadata.GetOrAddString("asks.dll"), metadata.GetOrAddGuid(Guid.Parse("0f0b9a57-6a0c-4f59-8f0c-1d2f6b7a3c21")), default, default);
        metadata.AddAssembly(metadata.GetOrAddString("asks"), new Version(1, 0, 0, 0), default, default, default, AssemblyHashAlgorithm.None);
        metadata.AddTypeDefinition(default, default, metadata.GetOrAddString("<Module>"), default, MetadataTokens.FieldDefinitionHandle(1), MetadataTokens.MethodDefinitionHandle(1));
        AssemblyReferenceHandle from = metadata.AddAssemblyReference(metadata.GetOrAddString("System.Runtime"), new Version(10, 0, 0, 0), default, default, default, default);
        TypeReferenceHandle reference = metadata.AddTypeReference(from, metadata.GetOrAddString(space), metadata.GetOrAddString(type));
        if (member is not null)
        {
            // A method of an object without parameters that gives nothing (ECMA-335 II.23.2.1).
            metadata.AddMemberReference(reference, metadata.GetOrAddString(member), metadata.GetOrAddBlob(new byte[] { 0x20, 0x00, 0x01 }));
        }

        BlobBuilder image = new();
        new MetadataRootBuilder(metadata).Serialize(image, 0, 0);
        using MetadataReaderProvider provider = MetadataReaderProvider.FromMetadataImage(image.ToImmutableArray());
        return [.. AssemblyQuestions.Of(provider.GetMetadataReader())];
    }
}
