using System.Diagnostics;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// A whole delivery of an album: how fast it is, and that one killed at random moments and taken up again each time ends
/// with the bytes of an undisturbed one, nothing half-written under a final name at any moment.
/// </summary>
internal static class DeliveryKills
{
    private static readonly string[] Order =
        ["--format", "archive", "disc", "high-rate", "--alternate", "instrumental", "a-cappella", "television", "vocal-up=1.5", "--stems", "--date", "2026-03-01"];

    public static void Run(string album, int kills, int seed)
    {
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");
        Random random = new(seed);
        try
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(folder, "cache 1"));
            MeasuredProcess.Result whole = MeasuredProcess.Run("dotnet", Arguments(album, Path.Combine(folder, "one")));
            string sums = File.ReadAllText(Path.Combine(folder, "one", "Delivery 1", "SHA256SUMS"));
            Console.WriteLine($"undisturbed: {whole.Seconds:0.0} s, {whole.PeakMegabytes:0} MB, {sums.Count(letter => letter == '\n')} files; seed {seed}");
            Clear(folder);
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(folder, "cache 2"));
            int done = 0;
            for (int round = 1; done < kills; round++)
            {
                // A fresh target once a delivery got through, so that every kill meets one under way.
                string root = Path.Combine(folder, $"two {round}");
                done += KillUntilDone(album, root, whole.Seconds, kills - done, random);
                string now = File.ReadAllText(Path.Combine(root, "Delivery 1", "SHA256SUMS"));
                Console.WriteLine($"round {round}: {done} kills so far, bytes {(now == sums ? "the same" : "DIFFERENT")}, deliveries made {Directory.GetDirectories(root).Length}");
                Clear(folder);
                Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(folder, $"cache {round + 2}"));
            }
        }
        finally
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Clear(string folder)
    {
        foreach (string done in Directory.GetDirectories(folder))
        {
            Directory.Delete(done, recursive: true);
        }
    }

    private static int KillUntilDone(string album, string root, double seconds, int most, Random random)
    {
        int kills = 0;
        while (true)
        {
            using Process process = Process.Start(new ProcessStartInfo("dotnet", Arguments(album, root)) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            Task<string> output = process.StandardOutput.ReadToEndAsync();
            Task<string> errors = process.StandardError.ReadToEndAsync();
            if (kills == most || process.WaitForExit((int)(1000 * seconds * random.NextDouble() / 3)))
            {
                process.WaitForExit();
                return process.ExitCode == 0 ? kills : throw new InvalidOperationException(errors.Result + output.Result);
            }

            process.Kill();
            process.WaitForExit();
            kills++;
            CheckFinalNames(root);
        }
    }

    // Whatever stands under a final name must be a whole sound file, however the run ended.
    private static void CheckFinalNames(string root)
    {
        if (!Directory.Exists(root))
        {
            return;
        }

        foreach (string path in Directory.EnumerateFiles(root, "*.wav", SearchOption.AllDirectories).Where(path => !Path.GetFileName(path).StartsWith('.')))
        {
            MeasuredProcess.Run("ffmpeg", ["-nostdin", "-v", "error", "-xerror", "-i", path, "-f", "null", "-"]);
        }
    }

    private static IEnumerable<string> Arguments(string album, string root) =>
        [Path.Combine(AppContext.BaseDirectory, "livestems.dll"), "render", album, "--out", root, .. Order];
}
