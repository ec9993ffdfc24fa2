using System.Runtime.InteropServices;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// The program as it is delivered: published, compiled ahead of time. Where the ahead-of-time compiler cannot be had, the
/// program as it was built.
/// </summary>
internal sealed record PublishedProgram(string Description, string Program, IReadOnlyList<string> FirstArguments)
{
    /// <summary>Publishes into a folder; takes half a minute and leaves the source tree alone.</summary>
    public static PublishedProgram Publish(string folder)
    {
        string target = Path.Combine(folder, "program");
        try
        {
            MeasuredProcess.Run(
                "dotnet",
                [
                    "publish", Path.Combine(Root(), "src", "LiveStems.App"), "-c", "Release", "-v", "quiet", "--nologo",
                    "-r", RuntimeInformation.RuntimeIdentifier, "--self-contained", "false", "-p:PublishReadyToRun=true",
                    "--artifacts-path", Path.Combine(folder, "artifacts"), "-o", target,
                ]);
            return new PublishedProgram("published", "dotnet", [Path.Combine(target, "livestems.dll")]);
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
