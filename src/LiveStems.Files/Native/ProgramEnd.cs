using System.Diagnostics.CodeAnalysis;
using System.Runtime.InteropServices;

namespace LiveStems.Files.Native;

/// <summary>The end of this process where code of others may stand in its way: with threads that keep it alive, or at the farewell itself.</summary>
public static partial class ProgramEnd
{
    /// <summary>How long an orderly end may take.</summary>
    public static TimeSpan Patience { get; } = TimeSpan.FromSeconds(2);

    /// <summary>Ends in an orderly way, and when that takes longer than <see cref="Patience"/>, at once.</summary>
    /// <param name="exitCode">What the process leaves behind.</param>
    [DoesNotReturn]
    public static void End(int exitCode)
    {
        new Thread(() =>
        {
            Thread.Sleep(Patience);
            AtOnce(exitCode);
        })
        {
            IsBackground = true,
            Name = "end of the program",
        }.Start();
        Environment.Exit(exitCode);
    }

    /// <summary>Ends without asking anybody (POSIX.1-2017, <c>_exit</c>; Windows, <c>TerminateProcess</c>).</summary>
    /// <param name="exitCode">What the process leaves behind.</param>
    public static void AtOnce(int exitCode)
    {
        if (OperatingSystem.IsWindows())
        {
            TerminateProcess(OwnHandle, (uint)exitCode);
        }
        else
        {
            EndNow(exitCode);
        }
    }

    // What GetCurrentProcess gives: a constant that stands for the calling process.
    private const nint OwnHandle = -1;

    [LibraryImport("libc", EntryPoint = "_exit")]
    private static partial void EndNow(int exitCode);

    [LibraryImport("kernel32")]
    [return: MarshalAs(UnmanagedType.Bool)]
    private static partial bool TerminateProcess(nint process, uint exitCode);
}
