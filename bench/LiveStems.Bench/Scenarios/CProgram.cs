using System.Diagnostics;

namespace LiveStems.Bench.Scenarios;

/// <summary>Peers written in C, compiled by the system's compiler when they are measured.</summary>
internal static class CProgram
{
    /// <summary>Compiles a program into a folder and returns its path.</summary>
    /// <exception cref="InvalidOperationException">There is no compiler.</exception>
    public static string Build(string folder, string name, string text, params string[] options)
    {
        string source = Path.Combine(folder, name + ".c");
        string program = Path.Combine(folder, name);
        File.WriteAllText(source, text);
        using Process compiler = Process.Start("cc", ["-O2", .. options, "-o", program, source]);
        compiler.WaitForExit();
        return compiler.ExitCode == 0 ? program : throw new InvalidOperationException("no C compiler: install gcc for the C peers");
    }
}
