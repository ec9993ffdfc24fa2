using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// An album of a hundred songs, made of the songs of another: the same stems, every time a little louder or softer, so
/// that nothing of one song serves another. It is delivered unattended with masters, an alternate and the continuous
/// album; killed in the middle and taken up again. No file that stood may be touched, and memory stays that of a few songs.
/// </summary>
internal static class HundredSongs
{
    private const int SongsOnTheDisc = 99;

    public static void Run(string album, int songs)
    {
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");
        try
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(folder, "cache"));
            double minutes = Write(album, folder, songs);
            string root = Path.Combine(folder, "out");
            string underWay = Path.Combine(root, "Delivery 1 (under way)");
            string delivery = Path.Combine(root, "Delivery 1");
            Stopwatch clock = Stopwatch.StartNew();
            using (Process first = Start(folder, root, songs))
            {
                // Killed when about half of the masters stand.
                while (!first.WaitForExit(100) && Masters(underWay).Length < songs)
                {
                }

                first.Kill();
                first.WaitForExit();
            }

            double killed = clock.Elapsed.TotalSeconds;
            Dictionary<string, DateTime> stood = Masters(underWay).ToDictionary(path => Path.GetRelativePath(underWay, path), File.GetLastWriteTimeUtc);
            MeasuredProcess.Result rest = MeasuredProcess.Run("dotnet", Arguments(folder, root, songs));
            int touched = stood.Count(file => File.GetLastWriteTimeUtc(Path.Combine(delivery, file.Key)) != file.Value);
            Console.WriteLine(
                $"{songs} songs, {minutes:0} min: killed after {killed:0} s with {stood.Count} files; taken up again {rest.Seconds:0} s, "
                + $"{rest.ProcessorSeconds:0} s of processor time, {rest.PeakMegabytes:0} MB, {Directory.EnumerateFiles(Path.Combine(folder, "cache"), "*", SearchOption.AllDirectories).Sum(path => new FileInfo(path).Length) / 1e9:0.0} GB in the cache; {Masters(delivery).Length} files in all, {touched} of those that stood were touched, {Directory.GetDirectories(root).Length} delivery");
        }
        finally
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
            Directory.Delete(folder, recursive: true);
        }
    }

    private static double Write(string source, string folder, int songs)
    {
        Album album = AlbumFile.Load(source, BuiltInProcessors.Catalogue);
        string from = AlbumFile.FolderOf(source);
        List<Song> made = [];
        double seconds = 0;
        for (int i = 0; i < songs; i++)
        {
            Song song = album.Songs[i % album.Songs.Length];
            made.Add(song with
            {
                Title = $"{song.Title} {i + 1}",
                RoughMix = null,
                Stems = [.. song.Stems.Select(stem => stem with { File = Linked(stem.File), Placement = stem.Placement with { GainDb = stem.Placement.GainDb - 0.01 * (i / album.Songs.Length) } })],
            });
            seconds += song.Stems.Max(stem => Length(AlbumPath.OnDisk(from, stem.File)));
        }

        AlbumFile.Save(album with { Songs = [.. made] }, folder, BuiltInProcessors.Catalogue);
        return seconds / 60;

        string Linked(string file)
        {
            string there = Path.Combine(folder, file);
            Directory.CreateDirectory(Path.GetDirectoryName(there)!);
            if (!File.Exists(there))
            {
                File.CreateSymbolicLink(there, Path.GetFullPath(AlbumPath.OnDisk(from, file)));
            }

            return file;
        }
    }

    private static double Length(string path)
    {
        using LiveStems.Files.Reading.IAudioReader reader = LiveStems.Files.Reading.AudioFile.Open(path);
        return reader.Info.Seconds;
    }

    private static string[] Masters(string delivery) => Directory.Exists(delivery)
        ? [.. Directory.EnumerateFiles(delivery, "*.wav", SearchOption.AllDirectories).Where(path => !Path.GetFileName(path).StartsWith('.'))]
        : [];

    private static Process Start(string album, string root, int songs) =>
        Process.Start(new ProcessStartInfo("dotnet", Arguments(album, root, songs)))!;

    private static IEnumerable<string> Arguments(string album, string root, int songs) =>
        [
            Path.Combine(AppContext.BaseDirectory, "livestems.dll"), "render", album, "--out", root, "--format", "disc", "--alternate", "instrumental", "--date", "2026-03-01",
            .. songs <= SongsOnTheDisc ? new[] { "--continuous" } : [],
        ];
}
