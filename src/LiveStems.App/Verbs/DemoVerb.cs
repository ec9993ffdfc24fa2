using System.CommandLine;
using LiveStems.Albums.Import;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Delivery;
using LiveStems.App.Demo;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.View.Screens;

namespace LiveStems.App.Verbs;

/// <summary><c>demo</c>: the whole job on an album made for it.</summary>
internal static class DemoVerb
{
    private const string MastersFolder = "Masters";

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> folder = new("folder") { Description = "Where the demo album goes.", DefaultValueFactory = _ => "livestems-demo" };
        Option<bool> noWindow = new("--no-window") { Description = "Work in the terminal only." };
        Command verb = new("demo", "Writes an album of invented stems, corrects them and opens it in the window; without one, renders the masters and shows what was done.") { folder, noWindow };
        verb.AddExamples("livestems demo", "livestems demo ~/Music/demo --no-window");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(folder);
            string? obstacle = parsed.GetValue(noWindow) ? string.Empty : AlbumWindow.Obstacle();
            Album album = Write(path, interruption);
            if (obstacle is null)
            {
                using EndingSignals ending = new(interruption);
                using ProcessorWatch watch = new(HostingPlaces.OfUser, Processors.Host);
                AlbumWindow.Run(path, new WindowOptions { ProcessorWatch = watch }, ending.Token);
                return 0;
            }

            if (obstacle.Length > 0)
            {
                parsed.InvocationConfiguration.Error.WriteLine(obstacle);
            }

            Render(album, path, parsed.InvocationConfiguration.Output, interruption);
            return 0;
        });
        return verb;
    }

    private static Album Write(string folder, CancellationToken interruption)
    {
        if (File.Exists(folder))
        {
            throw new UsageException($"{folder} is a file; name a folder for the demo album");
        }

        if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any() && !File.Exists(Path.Combine(folder, DemoAlbumWriter.NotesName)))
        {
            throw new UsageException($"{folder} holds other things; name an empty or new folder for the demo album");
        }

        Directory.CreateDirectory(folder);
        WriteStems(folder, interruption);
        File.Delete(AlbumFile.FileOf(folder));
        File.Delete(Path.Combine(folder, AlbumSession.JournalName));
        string[] songFolders = [.. Enumerable.Range(0, DemoAlbum.Songs.Count).Select(index => Path.Combine(folder, DemoAlbumWriter.FolderName(index)))];
        ImportOrder order = new(folder, songFolders) { Title = DemoAlbum.Title, Artist = DemoAlbum.Artist };
        Album album = DemoCorrections.Apply(ImportVerb.Run(order, interruption).Album);
        int[] songs = [.. Enumerable.Range(0, album.Songs.Length)];
        album = SetVerb.MeetTargets(album, folder, songs, interruption);
        AlbumSession.Change(folder, BuiltInProcessors.Catalogue, _ => album, "the demo's corrections");
        return album;
    }

    private static void Render(Album album, string folder, TextWriter output, CancellationToken interruption)
    {
        int[] songs = [.. Enumerable.Range(0, album.Songs.Length)];
        IReadOnlyList<MasterReport> masters = RenderVerb.RenderAll(
            album, folder, songs, MasterFormat.Native, RenderOptions.Default, Path.Combine(folder, MastersFolder), replace: true, interruption);
        Report(output, album, masters, folder);
    }

    private static void WriteStems(string folder, CancellationToken interruption)
    {
        using ProgressLine line = new();
        InlineProgress<DemoProgress> progress = new(done => line.Report("playing the stems", (double)done.Done / done.Total));
        DemoAlbumWriter.WriteStems(folder, progress, interruption);
    }

    private static void Report(TextWriter output, Album album, IReadOnlyList<MasterReport> masters, string folder)
    {
        output.WriteLine($"{album.Title} · {album.Artist}");
        output.WriteLine();
        TextTable table = new("song", "LUFS", "LRA LU", "dBTP", "what was corrected");
        foreach ((Song song, MasterReport master) in album.Songs.Zip(masters))
        {
            string[] corrections = [.. Corrections(song)];
            for (int i = 0; i < corrections.Length; i++)
            {
                bool isFirst = i == 0;
                table.Add(
                    isFirst ? song.Title : string.Empty,
                    isFirst ? Numbers.Text(master.Loudness.IntegratedLufs, 1) : string.Empty,
                    isFirst ? Numbers.Text(master.Loudness.LoudnessRangeLu, 1) : string.Empty,
                    isFirst ? Numbers.Text(master.Loudness.TruePeakDbtp, 2) : string.Empty,
                    corrections[i]);
            }
        }

        table.WriteTo(output);
        output.WriteLine();
        output.WriteLine($"masters    {Path.Combine(folder, MastersFolder)}");
        output.WriteLine($"album      {AlbumFile.FileOf(folder)}");
        output.WriteLine($"story      {Path.Combine(folder, DemoAlbumWriter.NotesName)}");
        output.WriteLine($"look on    livestems show \"{folder}\"");
    }

    private static IEnumerable<string> Corrections(Song song) =>
        song.Stems
            .SelectMany(stem => stem.Chain.Slots.Select(slot => (Place: stem.Name, slot))
                .Concat(stem.Parallels.SelectMany(parallel => parallel.Chain.Slots.Select(slot => (Place: $"{stem.Name}, {parallel.Name}", slot)))))
            .Concat(song.Bus.Slots.Select(slot => (Place: "song bus", slot)))
            .Select(entry => $"{entry.Place}: {entry.slot.Reason} ({entry.slot.Processor})");
}
