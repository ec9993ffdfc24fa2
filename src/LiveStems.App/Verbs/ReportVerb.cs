using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Delivery;
using LiveStems.Analysis.Headroom;
using LiveStems.Analysis.Intake;
using LiveStems.Analysis.Papers;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>report</c>: the papers of an album.</summary>
internal static class ReportVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string> to = new("--out") { Description = "The HTML file to write; one that stands there is replaced.", Required = true };
        Option<bool> account = new("--account") { Description = "With the headroom account of every song; takes longer." };
        Option<bool> withoutCheck = new("--without-check") { Description = "Leave the intake check out." };
        Option<bool> notes = new("--notes") { Description = "With the notes of the album and the songs; they may be private." };
        Option<string?> date = new("--date") { Description = "Date told, as 2026-03-01; today without it." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("report", "Writes the papers of an album as one HTML file: measurements, corrections and their reasons, what arrived, what changed since the last delivery, checksums. Prints well, needs nothing from outside.")
        {
            album, to, account, withoutCheck, notes, date, json,
        };
        verb.AddExamples(
            "livestems report Album --out Papers.html",
            "livestems report Album --out Papers.html --account --notes");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            string file = parsed.GetRequiredValue(to);
            if (Path.GetExtension(file).ToLowerInvariant() is not (".html" or ".htm"))
            {
                throw new UsageException($"the papers are HTML; give --out a name that ends in .html, not '{file}'");
            }

            DateOnly day = DeliveryOptions.DateOf(parsed.GetValue(date));
            PaperContents contents = Gather(path, day, parsed.GetValue(account), !parsed.GetValue(withoutCheck), parsed.GetValue(notes), interruption);
            byte[] bytes = Encoding.UTF8.GetBytes(AlbumPaper.Write(contents));
            File.WriteAllBytes(file + ".part", bytes);
            File.Move(file + ".part", file, overwrite: true);
            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, new JsonObject { ["file"] = file, ["bytes"] = bytes.Length, ["songs"] = contents.Album.Songs.Length, ["lastDelivery"] = contents.LastDelivery?.Delivery.Number });
            }
            else
            {
                output.WriteLine($"{file}: {contents.Album.Songs.Length} songs, {bytes.Length / 1024} KB{(contents.LastDelivery is { } last ? $", delivery {last.Delivery.Number} with {last.Files.Count} files" : ", nothing delivered yet")}");
            }

            return 0;
        });
        return verb;
    }

    private static PaperContents Gather(string path, DateOnly day, bool withAccount, bool withCheck, bool withNotes, CancellationToken interruption)
    {
        Album album = AlbumFile.Load(path, Processors.Catalogue);
        string folder = AlbumFile.FolderOf(path);
        AlbumBalance balance = AlbumVerb.Measure(album, path, interruption);
        IReadOnlyList<LoggedDelivery> log = DeliveryLog.List(folder, Processors.Catalogue);
        LoggedDelivery? last = log.Count > 0 ? log[^1] : null;
        return new PaperContents(album, balance, Processors.Catalogue, day)
        {
            Accounts = withAccount ? Accounts(album, folder, interruption) : [],
            Intake = withCheck ? Check(album, folder, interruption) : null,
            LastDelivery = last is null ? null : (last, ManifestReading.Of(last.Folder)),
            Changes = last is null ? [] : AlbumDifference.Between(last.Album, album, Processors.Catalogue),
            Versions = [.. AlbumVersions.List(path, Processors.Catalogue).Select(version => $"{version.Name}, {version.SavedAt.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}")],
            HasNotes = withNotes,
        };
    }

    private static IntakeReport Check(Album album, string folder, CancellationToken interruption)
    {
        using ProgressLine line = new();
        return IntakeCheck.Run(IntakeSongs.Of(album, folder), (song, share) => line.Report($"checking {song}", share), interruption);
    }

    private static List<HeadroomReport> Accounts(Album album, string folder, CancellationToken interruption)
    {
        using ProgressLine line = new();
        List<HeadroomReport> accounts = [];
        foreach (Song song in album.Songs)
        {
            InlineProgress<double> progress = new(share => line.Report($"keeping account of {song.Title}", (accounts.Count + share) / album.Songs.Length));
            accounts.Add(HeadroomAccount.Measure(song, folder, Processors.Catalogue, wholly: false, Environment.ProcessorCount, progress, interruption));
        }

        return accounts;
    }
}
