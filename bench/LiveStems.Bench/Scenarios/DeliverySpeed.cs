using System.Text.Json;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// A complete delivery of an album from an empty cache: masters in three forms, four alternates, treated stems, papers.
/// Its speed is the length of every sound file delivered, added up, against the processor time of all threads: times real
/// time per core. The same without treated stems is a run of its own.
/// </summary>
internal static class DeliverySpeed
{
    private static readonly string[] Order = ["--format", "archive", "disc", "high-rate", "--alternate", "instrumental", "a-cappella", "television", "vocal-up=1.5", "--date", "2026-03-01"];

    public static void Run(string album, int rounds)
    {
        for (int round = 0; round < rounds; round++)
        {
            Measure("masters, alternates, treated stems and papers", album, [.. Order, "--stems"], withPapers: true);
            Measure("masters and alternates alone", album, Order, withPapers: false);
        }
    }

    private static void Measure(string what, string album, string[] order, bool withPapers)
    {
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");
        try
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(folder, "cache"));
            string program = Path.Combine(AppContext.BaseDirectory, "livestems.dll");
            string root = Path.Combine(folder, "out");
            MeasuredProcess.Result delivery = MeasuredProcess.Run("dotnet", [program, "render", album, "--out", root, .. order]);
            double processor = delivery.ProcessorSeconds;
            double elapsed = delivery.Seconds;
            double memory = delivery.PeakMegabytes;
            if (withPapers)
            {
                MeasuredProcess.Result papers = MeasuredProcess.Run("dotnet", [program, "report", album, "--out", Path.Combine(folder, "Papers.html")]);
                processor += papers.ProcessorSeconds;
                elapsed += papers.Seconds;
                memory = Math.Max(memory, papers.PeakMegabytes);
            }

            (int files, double sound) = Delivered(Path.Combine(root, "Delivery 1", "manifest.json"));
            Console.WriteLine(
                $"{what}: {files} files, {sound / 60:0.0} min of sound in {elapsed:0.0} s, {processor:0.0} s of processor time: "
                + $"{sound / processor:0} times real time per core ({sound / elapsed:0} by the clock on {Environment.ProcessorCount} cores), {memory:0} MB");
        }
        finally
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
            Directory.Delete(folder, recursive: true);
        }
    }

    private static (int Files, double Seconds) Delivered(string manifest)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(manifest));
        double[] lengths = [.. document.RootElement.GetProperty("files").EnumerateArray().Select(file => file.GetProperty("frames").GetDouble() / file.GetProperty("sampleRateHz").GetDouble())];
        return (lengths.Length, lengths.Sum());
    }
}
