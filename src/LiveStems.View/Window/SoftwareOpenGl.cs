using System.Globalization;
using System.Runtime.InteropServices;

namespace LiveStems.View.Window;

/// <summary>
/// Where OpenGL is drawn by the processor (Mesa's llvmpipe), it takes every core for itself; one is left to the sound.
/// </summary>
internal static unsafe partial class SoftwareOpenGl
{
    // Mesa 3D documentation, "Environment variables", llvmpipe: how many threads paint.
    private const string ThreadsName = "LP_NUM_THREADS";

    /// <summary>Threads that may paint on a machine with so many cores.</summary>
    public static int ThreadsFor(int cores) => Math.Max(1, cores - 1);

    /// <summary>Says so to Mesa, unless somebody has said something else; before OpenGL is loaded.</summary>
    public static void LeaveACore()
    {
        if (OperatingSystem.IsLinux() && Environment.GetEnvironmentVariable(ThreadsName) is null)
        {
            // The runtime keeps its variables to itself; what native code reads is set natively.
            _ = SetVariable(ThreadsName, ThreadsFor(Environment.ProcessorCount).ToString(CultureInfo.InvariantCulture), 0);
        }
    }

    [LibraryImport("libc", EntryPoint = "setenv", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int SetVariable(string name, string value, int replaces);
}
