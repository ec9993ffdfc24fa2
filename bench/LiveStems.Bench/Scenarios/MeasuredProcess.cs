using System.Diagnostics;

namespace LiveStems.Bench.Scenarios;

/// <summary>Runs a program and takes its time and its largest resident memory.</summary>
internal static class MeasuredProcess
{
    /// <summary>Seconds from start to end, and megabytes of the largest resident set.</summary>
    public readonly record struct Result(double Seconds, double PeakMegabytes)
    {
        /// <summary>Seconds of all cores, in the program and in the system for it; up to its last 20 ms.</summary>
        public double ProcessorSeconds { get; init; }
    }

    public static Result Run(string program, IEnumerable<string> arguments)
    {
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        Stopwatch clock = Stopwatch.StartNew();
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> errors = process.StandardError.ReadToEndAsync();
        double peak = 0;
        double processor = 0;
        while (!process.WaitForExit(20))
        {
            peak = Math.Max(peak, ReadPeak(process.Id));
            processor = Math.Max(processor, ReadProcessorSeconds(process.Id));
        }

        double seconds = clock.Elapsed.TotalSeconds;
        return process.ExitCode == 0
            ? new Result(seconds, peak) { ProcessorSeconds = processor }
            : throw new InvalidOperationException($"{program} failed: {errors.Result}{output.Result}");
    }

    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted[sorted.Length / 2];
    }

    // proc_pid_stat(5): user and system time are fields 14 and 15, in hundredths of a second; the name before may hold spaces.
    private static double ReadProcessorSeconds(int processId)
    {
        try
        {
            string stat = File.ReadAllText($"/proc/{processId}/stat");
            string[] fields = stat[(stat.LastIndexOf(')') + 2)..].Split(' ');
            return (double.Parse(fields[11]) + double.Parse(fields[12])) / 100;
        }
        catch (IOException)
        {
            return 0;
        }
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
