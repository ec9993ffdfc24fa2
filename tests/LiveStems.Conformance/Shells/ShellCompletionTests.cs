using System.Diagnostics;
using LiveStems.App;
using Xunit;

namespace LiveStems.Conformance.Shells;

/// <summary>The script of <c>completion</c> in fish, which can be asked without a terminal what its Tab key would offer.</summary>
public sealed class ShellCompletionTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("livestems-shell-").FullName;

    /// <summary>Lays the program where the shells find it, and a file to complete.</summary>
    public ShellCompletionTests()
    {
        string program = Path.Combine(folder, "livestems");
        File.WriteAllText(program, $"#!/bin/sh\nexec dotnet '{Path.Combine(AppContext.BaseDirectory, "livestems.dll")}' \"$@\"\n");
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(program, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        }

        File.WriteAllText(Path.Combine(folder, "slack-water.json"), string.Empty);
    }

    /// <inheritdoc/>
    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("livestems rend", "render")]
    [InlineData("true; livestems comple", "completion")]
    [InlineData("livestems render --bits 1", "16")]
    [InlineData("livestems show slack", "slack-water.json")]
    public void FishCompletesVerbsValuesAndFiles(string line, string wanted)
    {
        string script = Script("fish");
        string[] offered = Ask("fish", "-c", $"source {script}; complete -C '{line}'").Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Contains(wanted, offered.Select(each => each.Split('\t')[0]));
    }

    private string Script(string shell)
    {
        string path = Path.Combine(folder, shell + ".script");
        using StringWriter script = new();
        Assert.Equal(0, Program.Run(["completion", shell], script, TextWriter.Null, CancellationToken.None));
        File.WriteAllText(path, script.ToString());
        return path;
    }

    private string Ask(string shell, params string[] arguments)
    {
        Prerequisite.Program(shell);
        ProcessStartInfo start = new(shell, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = folder };
        start.Environment["PATH"] = folder + Path.PathSeparator + start.Environment["PATH"];
        start.Environment["HOME"] = folder;
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        Task<string> output = process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        if (!process.WaitForExit(TimeSpan.FromMinutes(1)))
        {
            process.Kill(entireProcessTree: true);
        }

        Assert.True(process.ExitCode == 0, $"{shell} failed: {errors.Result}");
        return output.Result;
    }
}
