using System.Reflection;
using System.Runtime.CompilerServices;
using LiveStems.Dsp;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <summary>
/// Has the runtime compile all that the audio thread may call in the engine, the processors and the signal maths, so that no
/// first call of anything costs it time: an equaliser's first glide would take 14 ms otherwise, and 0.7 ms does it then.
/// </summary>
internal static class CodeWarmUp
{
    private static readonly string[] Namespaces =
    [
        "LiveStems.Engine.RealTime", "LiveStems.Engine.Monitor", "LiveStems.Engine.Devices", "LiveStems.Engine.Live",
        "LiveStems.Processing.Contract", "LiveStems.Processing.Processors", "LiveStems.Dsp",
    ];

    private static readonly Assembly[] Assemblies = [typeof(CodeWarmUp).Assembly, typeof(Processor).Assembly, typeof(Decibels).Assembly];

    private static readonly Lazy<bool> Done = new(Prepare);

    /// <summary>Does it once; later calls return at once.</summary>
    public static void Run() => _ = Done.Value;

    private static bool Prepare()
    {
        const BindingFlags All = BindingFlags.DeclaredOnly | BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;
        foreach (Type type in Assemblies.SelectMany(assembly => assembly.GetTypes()).Where(IsCalledLive))
        {
            foreach (MethodInfo method in type.GetMethods(All))
            {
                if (!method.IsAbstract && !method.ContainsGenericParameters && method.GetMethodBody() is not null)
                {
                    RuntimeHelpers.PrepareMethod(method.MethodHandle);
                }
            }
        }

        return true;
    }

    private static bool IsCalledLive(Type type) =>
        !type.ContainsGenericParameters
        && Namespaces.Any(name => type.Namespace is { } space && (space == name || space.StartsWith(name + '.', StringComparison.Ordinal)));
}
