using System.Diagnostics;

namespace LiveStems.Bench.Scenarios;

/// <summary>Runs a program and takes its time and its largest resident memory.</summary>
internal static class MeasuredProcess
{
    /// <summary>Seconds from start to end, and megabytes of the largest resident set.</summary>
    public readonly record struct Result(double Seconds, double PeakMegabytes);

    public static Result Run(string program, IEnumerable<string> arguments)
    {
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        Stopwatch clock = Stopwatch.StartNew();
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> errors = process.StandardError.ReadToEndAsync();
        double peak = 0;
        while (!process.WaitForExit(20))
        {
            peak = Math.Max(peak, ReadPeak(process.Id));
        }

        double seconds = clock.Elapsed.TotalSeconds;
        return process.ExitCode == 0
            ? new Result(seconds, peak)
            : throw new InvalidOperationException($"{program} failed: {errors.Result}{output.Result}");
    }

    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted[sorted.Length / 2];
    }

    private static double ReadPeak(int processId)
    {
        try
        {
            string? line = File.ReadLines($"/proc/{processId}/status").FirstOrDefault(each => each.StartsWith("VmHWM", StringComparison.Ordinal));
            return line is null ? 0 : double.Parse(new string([.. line.Where(char.IsAsciiDigit)])) / 1024;
        }
        catch (IOException)
        {
            return 0;
        }
    }
}
