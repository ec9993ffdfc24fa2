namespace LiveStems.Bench.Scenarios;

/// <summary>
/// The program as it is delivered: published, compiled ahead of time. Where the ahead-of-time compiler cannot be had, the
/// program as it was built.
/// </summary>
internal sealed record PublishedProgram(string Description, string Program, IReadOnlyList<string> FirstArguments)
{
    /// <summary>Publishes into a folder; takes some minutes and leaves the source tree alone.</summary>
    public static PublishedProgram Publish(string folder)
    {
        string target = Path.Combine(folder, "program");
        try
        {
            MeasuredProcess.Run(
                "dotnet",
                [
                    "publish", Path.Combine(Root(), "src", "LiveStems.App"), "-c", "Release", "-v", "quiet", "--nologo",
                    "--artifacts-path", Path.Combine(folder, "artifacts"), "-o", target,
                ]);
            return new PublishedProgram("published", Path.Combine(target, OperatingSystem.IsWindows() ? "livestems.exe" : "livestems"), []);
        }
        catch (InvalidOperationException)
        {
            return new PublishedProgram("as built", "dotnet", [Path.Combine(AppContext.BaseDirectory, "livestems.dll")]);
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
