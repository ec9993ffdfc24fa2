using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace LiveStems.Conformance;

/// <summary>Calculations in Python with numpy and scipy.</summary>
internal static class Scipy
{
    private const string Beginning = "import sys, warnings\nwarnings.filterwarnings('ignore')\nimport numpy, scipy.fft, scipy.signal\nimport numpy as np\nfrom scipy import signal\n";

    private static readonly Lazy<string?> Interpreter = new(FindInterpreter);

    /// <summary>
    /// Runs a script with numpy as np and scipy.signal as signal at hand and returns the numbers it printed, one a line.
    /// </summary>
    public static double[] Numbers(string script)
    {
        string text = Run(script);
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => double.Parse(line, CultureInfo.InvariantCulture))];
    }

    /// <summary>Evaluates an expression of x, a numpy array; complex results come as real and imaginary in turns.</summary>
    public static double[] Evaluate(string expression, double[] input)
    {
        string source = Path.GetTempFileName();
        string target = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(source, MemoryMarshal.AsBytes(input.AsSpan()));
            Run($"x = numpy.fromfile(sys.argv[1])\n({expression}).tofile(sys.argv[2])", source, target);
            return MemoryMarshal.Cast<byte, double>(File.ReadAllBytes(target)).ToArray();
        }
        finally
        {
            File.Delete(source);
            File.Delete(target);
        }
    }

    /// <summary>A number as Python reads it, to the last bit.</summary>
    public static string Write(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>Numbers as a Python list.</summary>
    public static string Write(IEnumerable<double> values) => $"[{string.Join(',', values.Select(Write))}]";

    private static string Run(string script, params string[] arguments)
    {
        Prerequisite.Require(Interpreter.Value is not null, "no python3 with scipy is installed (Debian: python3-scipy)");
        return Prerequisite.Run(Interpreter.Value!, ["-c", Beginning + script, .. arguments]);
    }

    // More than one Python may be installed, and not each of them has scipy.
    private static string? FindInterpreter() =>
        (Environment.GetEnvironmentVariable("PATH") ?? string.Empty)
            .Split(Path.PathSeparator)
            .Append("/usr/bin")
            .Select(folder => Path.Combine(folder, "python3"))
            .FirstOrDefault(path => File.Exists(path) && HasScipy(path));

    private static bool HasScipy(string interpreter)
    {
        ProcessStartInfo start = new(interpreter, ["-c", "import scipy.fft, scipy.signal"]) { RedirectStandardError = true };
        using Process process = Process.Start(start)!;
        process.StandardError.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0;
    }
}
