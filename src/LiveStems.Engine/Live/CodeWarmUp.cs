using System.Reflection;
using System.Runtime.CompilerServices;
using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <summary>
/// Has the runtime compile all that the audio thread may call, so that no first call of anything costs it time: an
/// equaliser's first glide would take 14 ms otherwise, and 0.7 ms does it then.
/// </summary>
/// <remarks>
/// What every block runs through is ready when <see cref="Run"/> returns. The processors and the signal maths follow on a
/// thread of low priority: a plan is run before it is heard, which compiles all but its glides and rare turns, and the first
/// sound need not wait for those.
/// </remarks>
internal static class CodeWarmUp
{
    private const BindingFlags All = BindingFlags.DeclaredOnly | BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;

    // Compiling on both cores at once would hold up the first sound by a second.
    private static readonly TimeSpan HeadStart = TimeSpan.FromSeconds(1.5);

    private static readonly string[] Namespaces =
    [
        "LiveStems.Engine.RealTime", "LiveStems.Engine.Monitor", "LiveStems.Engine.Devices", "LiveStems.Engine.Live",
        "LiveStems.Processing.Contract", "LiveStems.Processing.Processors", "LiveStems.Dsp",
    ];

    private static readonly Lazy<bool> Engine = new(() => Prepare([typeof(CodeWarmUp).Assembly, typeof(LoudnessMeter).Assembly], ["LiveStems.Engine", typeof(LoudnessMeter).Namespace!]));
    private static readonly Lazy<Thread> Rest = new(PrepareRest);

    /// <summary>Does it once; later calls return at once.</summary>
    public static void Run()
    {
        _ = Engine.Value;
        _ = Rest.Value;
    }

    private static Thread PrepareRest()
    {
        Thread thread = new(() =>
        {
            Thread.Sleep(HeadStart);
            Prepare([typeof(Processor).Assembly, typeof(Decibels).Assembly], Namespaces);
        })
        {
            IsBackground = true,
            Name = "code warm-up",
            Priority = ThreadPriority.BelowNormal,
        };
        thread.Start();
        return thread;
    }

    // Of the namespaces that are called live, those under these.
    private static bool Prepare(Assembly[] assemblies, string[] under)
    {
        foreach (Assembly assembly in assemblies)
        {
            Type[] types = assembly.GetTypes();
            foreach (Type type in types.Where(type => IsCalledLive(type) && IsUnder(type, under)))
            {
                foreach (MethodInfo method in type.GetMethods(All).Where(HasCode))
                {
                    if (!method.IsGenericMethodDefinition)
                    {
                        RuntimeHelpers.PrepareMethod(method.MethodHandle);
                    }
                    else if (method.GetGenericArguments() is [{ } parameter])
                    {
                        PrepareFor(method, parameter, types);
                    }
                }
            }
        }

        return true;
    }

    // A loop around a step that is a structure is compiled for each such structure.
    private static void PrepareFor(MethodInfo method, Type parameter, Type[] types)
    {
        Type[] interfaces = [.. parameter.GetGenericParameterConstraints().Where(type => type.IsInterface)];
        if (interfaces.Length > 0)
        {
            foreach (Type step in types.Where(type => type.IsValueType && !type.ContainsGenericParameters && Array.TrueForAll(interfaces, each => each.IsAssignableFrom(type))))
            {
                RuntimeHelpers.PrepareMethod(method.MethodHandle, [step.TypeHandle]);
            }
        }
    }

    // By its flags: to ask for a method's body would leave a megabyte of descriptions behind, which the first collections move.
    private static bool HasCode(MethodInfo method) =>
        !method.IsAbstract
        && (!method.ContainsGenericParameters || method.IsGenericMethodDefinition)
        && (method.Attributes & MethodAttributes.PinvokeImpl) == 0
        && (method.MethodImplementationFlags & (MethodImplAttributes.CodeTypeMask | MethodImplAttributes.InternalCall)) == MethodImplAttributes.IL;

    private static bool IsCalledLive(Type type) =>
        !type.ContainsGenericParameters && IsUnder(type, Namespaces);

    private static bool IsUnder(Type type, string[] names) =>
        names.Any(name => type.Namespace is { } space && (space == name || space.StartsWith(name + '.', StringComparison.Ordinal)));
}
