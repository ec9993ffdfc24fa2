using System.Diagnostics;
using System.Runtime.InteropServices;

namespace LiveStems.Files.Native;

/// <summary>Goes on as another program, with the same terminal, folder and environment.</summary>
public static partial class ProgramReplacement
{
    /// <summary>
    /// Puts the other program in the place of this process (POSIX.1-2017, <c>execv</c>), so that signals reach it directly. Where
    /// the system knows no such thing (Windows), runs it and waits.
    /// </summary>
    /// <param name="program">Full path of the program.</param>
    /// <param name="arguments">What it is given.</param>
    /// <returns>Its exit code; where it takes this process's place, the call does not return.</returns>
    /// <exception cref="IOException">It cannot be started.</exception>
    public static int Run(string program, IReadOnlyList<string> arguments)
    {
        if (OperatingSystem.IsWindows())
        {
            return RunAndWait(program, arguments);
        }

        Execute(program, [program, .. arguments, null]);
        throw new IOException($"{program} cannot be started ({Marshal.GetLastPInvokeErrorMessage()})");
    }

    private static int RunAndWait(string program, IReadOnlyList<string> arguments)
    {
        // An interruption reaches the other program too; it decides what ends.
        Console.CancelKeyPress += (_, pressed) => pressed.Cancel = true;
        using Process other = Process.Start(new ProcessStartInfo(program, arguments) { UseShellExecute = false })
            ?? throw new IOException($"{program} cannot be started");
        other.WaitForExit();
        return other.ExitCode;
    }

    [LibraryImport("libc", EntryPoint = "execv", StringMarshalling = StringMarshalling.Utf8, SetLastError = true)]
    private static partial int Execute(string program, string?[] arguments);
}
