namespace LiveStems.Bench.Scenarios;

/// <summary>
/// The program as it is delivered: published, compiled ahead of time, with the quick program for this machine. Where the
/// ahead-of-time compilers cannot be had, the program as it was built.
/// </summary>
/// <param name="Description">How it was made.</param>
/// <param name="Program">What is started.</param>
/// <param name="FirstArguments">What it is given before all else.</param>
/// <param name="Whole">The program that runs everywhere, where another one is quicker; else null.</param>
internal sealed record PublishedProgram(string Description, string Program, IReadOnlyList<string> FirstArguments, string? Whole = null)
{
    /// <summary>Publishes into a folder; takes some minutes and leaves the source tree alone.</summary>
    public static PublishedProgram Publish(string folder)
    {
        string target = Path.Combine(folder, "program");
        string suffix = OperatingSystem.IsWindows() ? ".exe" : string.Empty;
        string program = Path.Combine(target, "livestems" + suffix);
        try
        {
            MeasuredProcess.Run(
                "dotnet",
                [
                    "publish", Path.Combine(Root(), "src", "LiveStems.App"), "-c", "Release", "-v", "quiet", "--nologo",
                    "--artifacts-path", Path.Combine(folder, "artifacts"), "-o", target, "-p:ForThisMachine=true",
                ]);
            return new PublishedProgram("published for this machine", program, [], Path.Combine(target, "livestems-whole" + suffix));
        }
        catch (InvalidOperationException)
        {
            // Without a C compiler the quick program fails after the whole one stands.
            return File.Exists(program)
                ? new PublishedProgram("published", program, [])
                : new PublishedProgram("as built", "dotnet", [Path.Combine(AppContext.BaseDirectory, "livestems.dll")]);
        }
    }

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "LiveStems.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("the source tree is not here");
    }
}
