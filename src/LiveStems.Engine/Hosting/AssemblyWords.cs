namespace LiveStems.Engine.Hosting;

/// <summary>
/// What a type of the runtime is to a person who decides about a file: nothing to speak of, a word, or, where there is none,
/// its own name. Only what stands here as harmless is passed over, so that nobody need know all that could do harm.
/// </summary>
internal static class AssemblyWords
{
    public const string ByAddress = "memory by address (unsafe code)";

    private const string Found = "code found by name while it runs (reflection)";
    private const string Made = "code made while it runs";
    private const string Loaded = "code loaded while it runs";
    private const string Threads = "threads of its own";
    private const string Files = "files";
    private const string Native = "native memory or code";
    private const string Surroundings = "the environment";
    private const int MostLetters = 120;

    // All others are its own, or of a file beside it, which is read as it is.
    private static readonly string[] Roots = ["System", "Microsoft", "Internal", "Windows"];

    private static readonly Dictionary<string, string> Words = new(StringComparer.Ordinal)
    {
        ["System.Activator"] = Found,
        ["System.AppContext"] = Surroundings,
        ["System.AppDomain"] = Loaded,
        ["System.Console"] = "the terminal",
        ["System.Environment"] = Surroundings,
        ["System.Diagnostics.Process"] = "other programs",
        ["System.Diagnostics.ProcessStartInfo"] = "other programs",
        ["System.Linq.ParallelEnumerable"] = Threads,
        ["System.Runtime.CompilerServices.ModuleInitializerAttribute"] = "code that runs when it is loaded",
        ["System.Runtime.CompilerServices.Unsafe"] = ByAddress,
        ["System.Runtime.CompilerServices.UnsafeAccessorAttribute"] = Found,
        ["System.Runtime.CompilerServices.UnsafeAccessorTypeAttribute"] = Found,

        // These reach beyond what they were given without a word of unsafe code.
        ["System.Runtime.InteropServices.CollectionsMarshal"] = ByAddress,
        ["System.Runtime.InteropServices.GCHandle"] = ByAddress,
        ["System.Runtime.InteropServices.ImmutableCollectionsMarshal"] = ByAddress,
        ["System.Runtime.InteropServices.MemoryMarshal"] = ByAddress,
        ["System.Runtime.InteropServices.SequenceMarshal"] = ByAddress,

        ["System.Runtime.InteropServices.ComWrappers"] = Native,
        ["System.Runtime.InteropServices.Marshal"] = Native,
        ["System.Runtime.InteropServices.NativeLibrary"] = Native,
        ["System.Runtime.InteropServices.NativeMemory"] = Native,
        ["System.Runtime.InteropServices.SafeBuffer"] = Native,
        ["System.Runtime.InteropServices.SafeHandle"] = Native,
        ["System.Runtime.InteropServices.UnmanagedCallersOnlyAttribute"] = Native,
        ["System.Threading.ITimer"] = Threads,
        ["System.Threading.ParameterizedThreadStart"] = Threads,
        ["System.Threading.PeriodicTimer"] = Threads,
        ["System.Threading.Thread"] = Threads,
        ["System.Threading.ThreadPool"] = Threads,
        ["System.Threading.ThreadPriority"] = Threads,
        ["System.Threading.ThreadStart"] = Threads,
        ["System.Threading.Timer"] = Threads,
        ["System.Threading.TimerCallback"] = Threads,
        ["System.Threading.WaitCallback"] = Threads,
    };

    // With all that lies below; the first that fits counts. Null is harmless.
    private static readonly (string Space, string? Word)[] Spaces =
    [
        ("System.Reflection.Emit", Made),
        ("System.Linq.Expressions", Made),
        ("System.Reflection", Found),
        ("System.Dynamic", Found),
        ("Microsoft.CSharp", Found),
        ("System.Runtime.Loader", Loaded),
        ("System.Threading.Tasks", Threads),
        ("System.Timers", Threads),
        ("System.IO", Files),
        ("System.Xml", Files),
        ("System.Net", "networking"),
        ("Microsoft.Win32", "the registry"),
        ("System.Collections.Frozen", null),
        ("System.Collections.Generic", null),
        ("System.Collections.Immutable", null),
        ("System.Collections.ObjectModel", null),
        ("System.Numerics", null),
        ("System.Runtime.Intrinsics", null),
        ("System.Buffers.Binary", null),
    ];

    private static readonly HashSet<string> Harmless = new(
    [
        .. Types("System", """
            Object ValueType Enum Array String Void Boolean Char SByte Byte Int16 UInt16 Int32 UInt32 Int64 UInt64 Int128 UInt128
            IntPtr UIntPtr Half Single Double Decimal Nullable Tuple ValueTuple Index Range Span ReadOnlySpan Memory ReadOnlyMemory
            MemoryExtensions ArraySegment Math MathF MidpointRounding BitConverter Buffer Convert Random HashCode TimeSpan Version
            Func Action Predicate Comparison Converter EventHandler EventArgs MulticastDelegate Lazy
            IDisposable IComparable IEquatable IFormattable ISpanFormattable IUtf8SpanFormattable IParsable ISpanParsable IConvertible IFormatProvider ICloneable
            StringComparer StringComparison StringSplitOptions AttributeTargets RuntimeTypeHandle RuntimeFieldHandle
            """),
        .. Types("System.Buffers", "ArrayPool SearchValues"),
        .. Types("System.Collections", "ICollection IDictionary IEnumerable IEnumerator IList IComparer IEqualityComparer IStructuralComparable IStructuralEquatable BitArray"),
        .. Types("System.Diagnostics", "DebuggerBrowsableState"),
        .. Types("System.Globalization", "CultureInfo NumberFormatInfo NumberStyles"),
        .. Types("System.IO", "BinaryReader BinaryWriter MemoryStream SeekOrigin Stream StringReader StringWriter TextReader TextWriter"),
        .. Types("System.Linq", "Enumerable IGrouping ILookup IOrderedEnumerable Lookup"),
        .. Types("System.Runtime.CompilerServices", "DefaultInterpolatedStringHandler IsExternalInit IsUnmanaged IsVolatile ITuple MethodImplOptions StrongBox"),
        .. Enumerable.Range(2, 15).Select(length => $"System.Runtime.CompilerServices.InlineArray{length}"),
        .. Types("System.Text", "CompositeFormat Encoding Rune StringBuilder"),
        .. Types("System.Threading", "Interlocked Volatile"),
    ], StringComparer.Ordinal);

    // Of these nothing but a few members is harmless, and what they are good for beyond that is to find code by its name.
    private static readonly Dictionary<string, string[]> FewMembers = new(StringComparer.Ordinal)
    {
        ["System.Type"] = ["GetTypeFromHandle", "op_Equality", "op_Inequality", "Equals", "GetHashCode", "ToString", "get_FullName"],
        ["System.Delegate"] = ["Combine", "Remove", "op_Equality", "op_Inequality", "Equals"],
        ["System.Reflection.MemberInfo"] = ["get_Name"],
        ["System.Runtime.CompilerServices.RuntimeHelpers"] = ["CreateSpan", "GetSubArray", "InitializeArray", "IsReferenceOrContainsReferences", "GetHashCode", "Equals", "EnsureSufficientExecutionStack"],
    };

    /// <summary>What is to be said of a type, by its namespace and its name in metadata; null where there is nothing.</summary>
    public static string? Of(string space, string type)
    {
        string name = Plain(space, type);
        if (!Array.Exists(Roots, root => IsUnder(space, root)) || Harmless.Contains(name) || FewMembers.ContainsKey(name))
        {
            return null;
        }

        if (Words.TryGetValue(name, out string? word))
        {
            return word;
        }

        // They say something about code, or that something went wrong, and do nothing.
        if (name.EndsWith("Attribute", StringComparison.Ordinal) || name.EndsWith("Exception", StringComparison.Ordinal))
        {
            return null;
        }

        int index = Array.FindIndex(Spaces, each => IsUnder(space, each.Space));
        return index >= 0 ? Spaces[index].Word : PlainText.Of(name, MostLetters);
    }

    /// <summary>What is to be said of a member of a type of which some are harmless; null where there is nothing.</summary>
    public static string? OfMember(string space, string type, string member) =>
        FewMembers.TryGetValue(Plain(space, type), out string[]? harmless) && !harmless.Contains(member) ? Found : null;

    private static IEnumerable<string> Types(string space, string names) =>
        names.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(name => $"{space}.{name}");

    // Without the number of type parameters (ECMA-335 II.9.4).
    private static string Plain(string space, string type)
    {
        int mark = type.IndexOf('`', StringComparison.Ordinal);
        return $"{space}.{(mark < 0 ? type : type[..mark])}";
    }

    private static bool IsUnder(string space, string root) => space == root || space.StartsWith(root + '.', StringComparison.Ordinal);
}
