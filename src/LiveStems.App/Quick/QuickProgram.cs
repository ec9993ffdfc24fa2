using LiveStems.Engine.Hosting;
using LiveStems.Files.Native;

namespace LiveStems.App.Quick;

/// <summary>
/// The program compiled whole for the processor of one machine. It brings no runtime that could load processors of others or
/// compile anything, and starts in a fraction of the time; it knows the commands that read, reckon and write. Everything
/// else it leaves to the whole program, which stands beside it.
/// </summary>
/// <remarks>
/// Whether this is it, <c>RuntimeFeature.IsDynamicCodeSupported</c> says: a constant to the compiler, which leaves out what
/// stands behind it. Hence it is asked at the places themselves.
/// </remarks>
internal static class QuickProgram
{
    private const string WholeName = "livestems-whole";

    /// <summary>The commands it knows; <see cref="LiveStems.App.Verbs.AllVerbs"/> leaves out all others.</summary>
    public static IReadOnlyList<string> Verbs { get; } = ["import", "show", "set", "undo", "redo", "recover", "versions", "check", "measure", "render"];

    // Pictures need the library that draws, deliveries and other versions of songs the whole analysis.
    private static readonly string[] WholeOptions = ["--picture", "--format", "--alternate", "--stems", "--continuous"];

    /// <summary>Whether it can do this.</summary>
    /// <param name="arguments">The command.</param>
    /// <param name="processorsFolder">Where processors of others would lie.</param>
    public static bool CanRun(IReadOnlyList<string> arguments, string processorsFolder) =>
        arguments.Count > 0
        && Verbs.Contains(arguments[0])
        && !arguments.Any(IsForTheWhole)
        && !(Directory.Exists(processorsFolder) && Directory.EnumerateFileSystemEntries(processorsFolder).Any());

    /// <summary>Leaves a command to the whole program.</summary>
    /// <returns>Its exit code.</returns>
    /// <exception cref="IOException">It does not stand beside this one.</exception>
    public static int LeaveToTheWhole(IReadOnlyList<string> arguments)
    {
        string program = Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? WholeName + ".exe" : WholeName);
        return File.Exists(program)
            ? ProgramReplacement.Run(program, arguments)
            : throw new IOException($"{program} is missing; publish the program anew");
    }

    /// <summary>Whether this process is to leave the command to the whole program.</summary>
    public static bool MustLeave(IReadOnlyList<string> arguments) => !CanRun(arguments, HostingPlaces.OfUser.Folder);

    // Also "--picture=file" and "--picture:file"; and a file of arguments may hold them.
    private static bool IsForTheWhole(string argument) => argument.StartsWith('@') || Array.Exists(
        WholeOptions,
        option => argument.StartsWith(option, StringComparison.Ordinal) && (argument.Length == option.Length || argument[option.Length] is '=' or ':'));
}
