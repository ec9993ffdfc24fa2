using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// How long <c>play</c> takes from the start of its process to the first callback that is not silent, on the silent device:
/// the figure that <c>play</c> itself reports at its end.
/// </summary>
internal static partial class ColdStart
{
    public static void Run(string albumFolder, int runs)
    {
        double[] seconds = [.. Enumerable.Range(0, runs).Select(_ => Once(albumFolder)).Order()];
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"cold start to first sound, {runs} runs: best {seconds[0]:0.00} s, median {seconds[runs / 2]:0.00} s, worst {seconds[^1]:0.00} s"));
    }

    private static double Once(string albumFolder)
    {
        ProcessStartInfo start = new(
            "dotnet",
            [Path.Combine(AppContext.BaseDirectory, "livestems.dll"), "play", albumFolder, "--from", "5", "--device", "silent", "--seconds", "1"])
        {
            RedirectStandardError = true,
            RedirectStandardInput = true,
        };
        using Process process = Process.Start(start)!;
        process.StandardInput.Close();
        string report = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Match figure = FirstSound().Match(report);
        return figure.Success
            ? double.Parse(figure.Groups[1].ValueSpan, CultureInfo.InvariantCulture)
            : throw new InvalidOperationException($"play made no sound: {report}");
    }

    [GeneratedRegex(@"first sound ([0-9.]+) s")]
    private static partial Regex FirstSound();
}
