using System.Diagnostics;
using System.Text.Json.Nodes;
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
        Make("Brine", "brine", "--displayName", "Salt and brine");
        Make("Rope", "rope");
        BuildAndTry("Brine", "brine", "Salt and brine");
        BuildAndTry("Rope", "rope", "Rope");

        void Make(string project, string id, params string[] more) => Run(
            "dotnet",
            ["new", "livestems-processor", "-n", project, "--processorId", id, .. more, "--livestemsFolder", AppContext.BaseDirectory, "-o", Path.Combine(root, project), "--debug:custom-hive", hive]);
    }

    [Fact]
    public void CopyOfTheTemplateBuildsAsItIs()
    {
        Prerequisite.Program("dotnet");
        string copy = Path.Combine(root, "MyProcessor");
        foreach (string file in Directory.EnumerateFiles(Template(), "*", SearchOption.AllDirectories))
        {
            string inside = Path.GetRelativePath(Template(), file);
            if (inside.Split(Path.DirectorySeparatorChar)[0] is not ("bin" or "obj" or ".template.config"))
            {
                string to = Path.Combine(copy, inside);
                Directory.CreateDirectory(Path.GetDirectoryName(to)!);
                File.Copy(file, to);
            }
        }

        BuildAndTry("MyProcessor", "my-processor", "My processor");
    }

    private void BuildAndTry(string project, string id, string name)
    {
        string file = project + ".dll";
        Run("dotnet", "build", "-c", "Release", "--nologo", Path.Combine(root, project), "-p:LiveStemsFolder=" + AppContext.BaseDirectory);
        Assert.True(File.Exists(Path.Combine(root, "processors", file)));
        Assert.Contains($"{file}: nothing of it runs until you say yes", Run(Program(), "processors"), StringComparison.Ordinal);

        // Its preset has come with it, and is told by what it was made for.
        JsonNode preset = JsonNode.Parse(Run(Program(), "presets", "--json"))!.AsArray().Single(each => (string)each!["preset"]! == $"{project}-softer")!;
        Assert.Equal((name + ", softer", id, 1), ((string)preset["name"]!, (string)preset["processors"]![0]!, (int)preset["versions"]![0]!));
        string trusted = Run(Program(), "processors", "--trust", file, "--yes");
        Assert.Contains($"{id}: keeps the contract", trusted, StringComparison.Ordinal);
        Assert.Contains($"{file} is trusted", trusted, StringComparison.Ordinal);
        string probed = Run(Program(), "probe", id, "--set", "gainDb=-6");
        Assert.Contains("Turns the sound up or down.", probed, StringComparison.Ordinal);
        Assert.Contains(name, probed, StringComparison.Ordinal);
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
