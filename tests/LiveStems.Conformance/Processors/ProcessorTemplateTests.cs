using System.Diagnostics;
using LiveStems.Engine.Hosting;
using Xunit;

namespace LiveStems.Conformance.Processors;

/// <summary>A processor of one's own from nothing, by the steps of DEVELOPERS.md, with the SDK's own <c>dotnet new</c> and <c>dotnet build</c>.</summary>
public sealed class ProcessorTemplateTests : IDisposable
{
    private readonly string root = Directory.CreateTempSubdirectory("livestems-template-").FullName;

    public void Dispose() => Directory.Delete(root, recursive: true);

    [Fact]
    public void TemplateBecomesAProcessorThatIsVettedAndProbed()
    {
        Prerequisite.Program("dotnet");
        string hive = Path.Combine(root, "hive");
        Run("dotnet", "new", "install", Template(), "--debug:custom-hive", hive);
        Run("dotnet", "new", "livestems-processor", "-n", "Brine", "--processorId", "brine", "--livestemsFolder", AppContext.BaseDirectory, "-o", Path.Combine(root, "Brine"), "--debug:custom-hive", hive);
        BuildAndTry(Path.Combine(root, "Brine"), "Brine.dll", "brine");
    }

    [Fact]
    public void CopyOfTheTemplateBuildsAsItIs()
    {
        Prerequisite.Program("dotnet");
        string copy = Path.Combine(root, "Copy");
        Directory.CreateDirectory(copy);
        foreach (string file in Directory.EnumerateFiles(Template()))
        {
            File.Copy(file, Path.Combine(copy, Path.GetFileName(file)));
        }

        BuildAndTry(copy, "MyProcessor.dll", "my-processor");
    }

    private void BuildAndTry(string folder, string file, string id)
    {
        Run("dotnet", "build", "-c", "Release", "--nologo", folder, "-p:LiveStemsFolder=" + AppContext.BaseDirectory);
        Assert.True(File.Exists(Path.Combine(root, "processors", file)));
        Assert.Contains($"{file}: nothing of it runs until you say yes", Run(Program(), "processors"), StringComparison.Ordinal);
        string trusted = Run(Program(), "processors", "--trust", file, "--yes");
        Assert.Contains($"{id}: keeps the contract", trusted, StringComparison.Ordinal);
        Assert.Contains($"{file} is trusted", trusted, StringComparison.Ordinal);
        Assert.Contains("Turns the sound up or down.", Run(Program(), "probe", id, "--set", "gainDb=-6"), StringComparison.Ordinal);
        Run(Program(), "processors", "--author", file, "--yes");
        Assert.Contains("your own work", Run(Program(), "processors"), StringComparison.Ordinal);
    }

    private static string Program() => Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "livestems.exe" : "livestems");

    private static string Template()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "LiveStems.sln")))
        {
            folder = folder.Parent;
        }

        return Path.Combine(folder!.FullName, "tests", "Outside", "Template");
    }

    private string Run(string program, params string[] arguments)
    {
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = root };
        start.Environment[HostingPlaces.FolderVariable] = Path.Combine(root, "processors");
        start.Environment[HostingPlaces.TrustVariable] = Path.Combine(root, "settings", "trusted-processors.json");
        start.Environment["DOTNET_CLI_TELEMETRY_OPTOUT"] = "1";
        start.Environment["DOTNET_SKIP_FIRST_TIME_EXPERIENCE"] = "1";

        // A server that stays behind would keep the pipes open, and this test waiting.
        start.Environment["UseSharedCompilation"] = "false";
        start.Environment["MSBUILDDISABLENODEREUSE"] = "1";
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{program} {string.Join(' ', arguments)} failed:\n{output}{errors.Result}");
        return output + errors.Result;
    }
}
