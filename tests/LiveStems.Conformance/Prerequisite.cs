using System.Diagnostics;
using Xunit;

namespace LiveStems.Conformance;

/// <summary>Reference programs and libraries that a check compares with.</summary>
internal static class Prerequisite
{
    private static bool MustBeThere => Environment.GetEnvironmentVariable("CI") == "true";

    /// <summary>Skips the test when a program is not installed; under CI=true that is a failure.</summary>
    public static void Program(string name)
    {
        bool found = (Environment.GetEnvironmentVariable("PATH") ?? string.Empty)
            .Split(Path.PathSeparator)
            .Any(folder => File.Exists(Path.Combine(folder, name)));
        Require(found, $"the program '{name}' is not installed");
    }

    /// <summary>Skips the test when a condition of the machine is not met; under CI=true that is a failure.</summary>
    public static void Require(bool isMet, string otherwise)
    {
        if (!isMet && MustBeThere)
        {
            Assert.Fail(otherwise);
        }

        Assert.SkipUnless(isMet, otherwise);
    }

    /// <summary>Runs a program to its end and returns what it wrote to standard output and standard error, together.</summary>
    public static string Run(string program, params string[] arguments)
    {
        Program(program);
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{program} {string.Join(' ', arguments)} failed: {errors.Result}");
        return output + errors.Result;
    }
}
