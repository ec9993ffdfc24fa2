using System.Diagnostics;
using System.Runtime.InteropServices;

namespace LiveStems.Conformance.Spectral;

/// <summary>Runs a line of Python with numpy and scipy on an array of doubles and returns the array it makes.</summary>
internal static class Scipy
{
    // The python of the path may be one without scipy beside the system's that has it.
    private static readonly string? Python = new[] { "python3", "/usr/bin/python3" }.FirstOrDefault(HasScipy);

    /// <summary>Evaluates <paramref name="expression"/> of x, a numpy array; complex results come as real and imaginary in turns.</summary>
    public static double[] Evaluate(string expression, double[] input)
    {
        Prerequisite.Require(Python is not null, "python3 with scipy is not installed");
        string source = Path.GetTempFileName();
        string target = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(source, MemoryMarshal.AsBytes(input.AsSpan()));
            Prerequisite.Run(
                Python!,
                "-c",
                $"import sys, numpy, scipy.fft, scipy.signal; x = numpy.fromfile(sys.argv[1]); ({expression}).tofile(sys.argv[2])",
                source,
                target);
            return MemoryMarshal.Cast<byte, double>(File.ReadAllBytes(target)).ToArray();
        }
        finally
        {
            File.Delete(source);
            File.Delete(target);
        }
    }

    private static bool HasScipy(string python)
    {
        try
        {
            using Process process = Process.Start(
                new ProcessStartInfo(python, ["-c", "import scipy.fft, scipy.signal"]) { RedirectStandardError = true })!;
            process.StandardError.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
