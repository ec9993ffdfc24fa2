using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
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
            if (!AlbumPaper.IsName(file))
            {
                throw new UsageException($"the papers are HTML; give --out a name that ends in .html, not '{file}'");
            }

            DateOnly day = DeliveryOptions.DateOf(parsed.GetValue(date));
            PaperContents contents = Gather(path, day, new PaperScope(parsed.GetValue(account), !parsed.GetValue(withoutCheck), parsed.GetValue(notes)), interruption);
            int bytes = AlbumPaper.Save(file, contents);
            if (contents.LastDelivery is { Files.Count: 0 })
            {
                parsed.InvocationConfiguration.Error.WriteLine($"livestems: {contents.DeliveryRemarks[0]}");
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, new JsonObject { ["file"] = file, ["bytes"] = bytes, ["songs"] = contents.Album.Songs.Length, ["lastDelivery"] = contents.LastDelivery?.Delivery.Number });
            }
            else
            {
                output.WriteLine($"{file}: {contents.Album.Songs.Length} songs, {bytes / 1024} KB{(contents.LastDelivery is { } last ? $", delivery {last.Delivery.Number} with {last.Files.Count} files" : ", nothing delivered yet")}");
            }

            return 0;
        });
        return verb;
    }

    private static PaperContents Gather(string path, DateOnly day, PaperScope scope, CancellationToken interruption)
    {
        Album album = AlbumFile.Load(path, Processors.Catalogue);
        using ProgressLine line = new();
        return PaperGathering.Gather(album, AlbumFile.FolderOf(path), Processors.Catalogue, day, scope, Environment.ProcessorCount, line.Report, interruption);
    }
}
