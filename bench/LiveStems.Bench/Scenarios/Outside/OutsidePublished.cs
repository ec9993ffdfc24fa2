using System.Diagnostics;
using System.Text.RegularExpressions;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>
/// The published program with a processor in a process of its own: it is trusted, put apart in an album, played, its process
/// killed, and heard again. It takes some minutes, most of them for publishing.
/// </summary>
internal static partial class OutsidePublished
{
    public static void Run(int rounds)
    {
        string root = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        try
        {
            PublishedProgram program = PublishedProgram.Publish(root);
            Console.WriteLine($"{program.Description}: {program.Program}");
            string processors = Directory.CreateDirectory(Path.Combine(root, "processors")).FullName;
            File.Copy(OutsideBuilds.Built("Tilt"), Path.Combine(processors, "Tilt.dll"));
            using BenchSong song = new([null], 30);
            string stems = Directory.CreateDirectory(Path.Combine(root, "stems", "Song")).FullName;
            File.Copy(Path.Combine(song.Folder, "stem.wav"), Path.Combine(stems, "Bass.wav"));
            string album = Path.Combine(root, "album");
            Tell(program, root, "processors", "--trust", "Tilt.dll", "--yes");
            Tell(program, root, "import", Path.Combine(root, "stems"), "--into", album, "--title", "T");
            Tell(program, root, "set", album, "--add", "1/Bass=outside-tilt", "1/Bass/outside-tilt.ownProcess=on");
            int back = 0;
            for (int round = 0; round < rounds; round++)
            {
                back += PlayAndKill(program, root, album) ? 1 : 0;
            }

            Console.WriteLine($"killed with signal 9 while it played, {rounds} rounds: named, started anew and heard again in {back}");
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }
    }

    private static bool PlayAndKill(PublishedProgram program, string root, string album)
    {
        using Process play = Start(program, root, "play", album, "--song", "1", "--device", "silent", "--seconds", "10");
        play.StandardInput.Close();
        Task<string> report = play.StandardError.ReadToEndAsync();
        _ = play.StandardOutput.ReadToEndAsync();
        int? victim = null;
        for (Stopwatch clock = Stopwatch.StartNew(); victim is null && clock.Elapsed.TotalSeconds < 10; Thread.Sleep(50))
        {
            victim = ChildOf(play.Id);
        }

        Thread.Sleep(2000);
        if (victim is { } id)
        {
            using Process child = Process.GetProcessById(id);
            child.Kill();
        }

        play.WaitForExit();
        string[] told = [.. report.Result.Split('\n').Where(line => line.StartsWith("Bass: ", StringComparison.Ordinal))];
        Console.WriteLine(string.Join(" / ", told));
        return victim is not null && told.Any(line => line.Contains("has ended (killed)", StringComparison.Ordinal)) && told.Any(line => line.Contains("is back", StringComparison.Ordinal));
    }

    // Linux: the fourth word of a process's line is its parent, behind the name in brackets (proc(5)).
    private static int? ChildOf(int parent)
    {
        foreach (string folder in Directory.EnumerateDirectories("/proc").Where(path => int.TryParse(Path.GetFileName(path), out _)))
        {
            try
            {
                Match match = ParentOf().Match(File.ReadAllText(Path.Combine(folder, "stat")));
                if (match.Success && int.Parse(match.Groups[1].ValueSpan) == parent)
                {
                    return int.Parse(Path.GetFileName(folder));
                }
            }
            catch (IOException)
            {
                // It has ended meanwhile.
            }
        }

        return null;
    }

    [GeneratedRegex(@"\) \S (\d+) ")]
    private static partial Regex ParentOf();

    private static void Tell(PublishedProgram program, string root, params string[] arguments)
    {
        using Process process = Start(program, root, arguments);
        process.StandardInput.Close();
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        string errors = process.StandardError.ReadToEnd();
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{string.Join(' ', arguments)}: {errors}{output.Result}");
        }
    }

    private static Process Start(PublishedProgram program, string root, params string[] arguments)
    {
        ProcessStartInfo start = new(program.Program, [.. program.FirstArguments, .. arguments])
        {
            RedirectStandardError = true,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        };
        start.Environment["LIVESTEMS_PROCESSORS"] = Path.Combine(root, "processors");
        start.Environment["LIVESTEMS_TRUST"] = Path.Combine(root, "settings", "trusted-processors.json");
        return Process.Start(start)!;
    }
}
