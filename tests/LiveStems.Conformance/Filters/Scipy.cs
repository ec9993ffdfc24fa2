using System.Diagnostics;
using System.Globalization;

namespace LiveStems.Conformance.Filters;

/// <summary>Calculations in Python with scipy, the reference for filters.</summary>
internal static class Scipy
{
    private static readonly Lazy<string?> Interpreter = new(FindInterpreter);

    /// <summary>
    /// Runs a script with numpy as np and scipy.signal as signal at hand and returns the numbers it printed, one a line.
    /// </summary>
    public static double[] Numbers(string script)
    {
        Prerequisite.Require(Interpreter.Value is not null, "no python3 with scipy is installed (Debian: python3-scipy)");
        string text = Prerequisite.Run(Interpreter.Value!, "-c", "import warnings\nwarnings.filterwarnings('ignore')\nimport numpy as np\nfrom scipy import signal\n" + script);
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => double.Parse(line, CultureInfo.InvariantCulture))];
    }

    /// <summary>A number as Python reads it, to the last bit.</summary>
    public static string Write(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>Numbers as a Python list.</summary>
    public static string Write(IEnumerable<double> values) => $"[{string.Join(',', values.Select(Write))}]";

    // More than one Python may be installed, and not each of them has scipy.
    private static string? FindInterpreter() =>
        (Environment.GetEnvironmentVariable("PATH") ?? string.Empty)
            .Split(Path.PathSeparator)
            .Append("/usr/bin")
            .Select(folder => Path.Combine(folder, "python3"))
            .FirstOrDefault(path => File.Exists(path) && HasScipy(path));

    private static bool HasScipy(string interpreter)
    {
        ProcessStartInfo start = new(interpreter, ["-c", "import scipy.signal"]) { RedirectStandardError = true };
        using Process process = Process.Start(start)!;
        process.StandardError.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0;
    }
}
