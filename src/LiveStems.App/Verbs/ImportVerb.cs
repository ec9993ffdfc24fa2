using System.CommandLine;
using LiveStems.Albums;
using LiveStems.Albums.Import;
using LiveStems.Albums.Storage;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>import</c>: folders of stems become songs of an album.</summary>
internal static class ImportVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string[]> folders = new("folder") { Description = "Folders of stems, or folders of such folders.", Arity = ArgumentArity.OneOrMore };
        Option<string> into = new("--into") { Description = "The album's folder; made when missing, extended when it holds an album.", Required = true };
        Option<string?> title = new("--title") { Description = "Title of a new album; otherwise the name of its folder." };
        Option<string?> artist = new("--artist") { Description = "Artist of a new album." };
        Command verb = new("import", "Makes an album from folders of stems, or adds songs to one. A folder of sound files is a song.") { folders, into, title, artist };
        verb.AddExamples(
            "livestems import \"Stems/01 Foghorn Waltz\" --into Album",
            "livestems import Stems --into Album --title \"Slack Water Letters\" --artist \"The Kelp Ledger\"");
        verb.SetAction(parsed =>
        {
            ImportOrder order = new(parsed.GetRequiredValue(into), parsed.GetRequiredValue(folders))
            {
                Title = parsed.GetValue(title),
                Artist = parsed.GetValue(artist) ?? string.Empty,
            };
            try
            {
                Report(parsed.InvocationConfiguration.Output, Run(order, interruption), order.AlbumFolder);
                return 0;
            }
            catch (AlbumException exception) when (exception.Faults.Count > 1)
            {
                foreach (AlbumFault fault in exception.Faults)
                {
                    parsed.InvocationConfiguration.Error.WriteLine($"livestems: {fault}");
                }

                return 2;
            }
        });
        return verb;
    }

    /// <summary>Imports with progress on the terminal.</summary>
    public static ImportResult Run(ImportOrder order, CancellationToken interruption)
    {
        using ProgressLine line = new();
        InlineProgress<ImportProgress> progress = new(done =>
            line.Report("importing", (double)done.BytesDone / Math.Max(1, done.BytesTotal)));
        return AlbumImport.Run(order, Processors.Catalogue, progress, interruption);
    }

    private static void Report(TextWriter output, ImportResult result, string albumFolder)
    {
        TextTable table = new("song", "stem", "file", "change");
        foreach (ImportedFile file in result.Files)
        {
            table.Add(file.Song, file.Stem ?? "rough mix", file.AlbumPath, file.Change.ToString().ToLowerInvariant());
        }

        table.WriteTo(output);
        foreach (SkippedFile skipped in result.Skipped)
        {
            output.WriteLine($"left out: {skipped.Path}: {skipped.Reason}");
        }

        output.WriteLine();
        output.WriteLine($"saved {AlbumFile.FileOf(albumFolder)}");
    }
}
