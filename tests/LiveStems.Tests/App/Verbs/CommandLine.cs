using LiveStems.App;

namespace LiveStems.Tests.App.Verbs;

/// <summary>Runs the program as a person would type it.</summary>
internal static class CommandLine
{
    public readonly record struct Result(int ExitCode, string Output, string Errors);

    public static Result Run(params string[] arguments)
    {
        StringWriter output = new();
        StringWriter errors = new();
        int exitCode = Program.Run(arguments, output, errors, CancellationToken.None);
        return new Result(exitCode, output.ToString(), errors.ToString());
    }
}
