using System.CommandLine;
using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Intake;
using LiveStems.App.Terminal;
using LiveStems.View.Pictures;

namespace LiveStems.App.Verbs;

/// <summary><c>check</c>: what arrived, and what to ask the mix engineer for.</summary>
internal static class CheckVerb
{
    private const int Found = 1;

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> path = new("album") { Description = "The album's folder, or a folder of stems that is not imported yet, or a folder of such folders." };
        Option<string?> song = CommonOptions.Song();
        Option<bool> letter = new("--letter") { Description = "Write the questions to the mix engineer, ready to be mailed, and nothing else." };
        Option<string?> picture = CommonOptions.Picture();
        Option<bool> json = CommonOptions.Json();
        Command verb = new("check", "Checks what arrived: format, length, alignment, polarity, silence, dropouts, clicks, clipping, offset, sides, noise, bits, and the sum of the stems against the rough mix. Exit code 1 when something must be cleared first.")
        {
            path, song, letter, picture, json,
        };
        verb.AddExamples(
            "livestems check Album",
            "livestems check \"Stems/01 Foghorn Waltz\" --letter",
            "livestems check Album --song 2 --json --picture check.png");
        verb.SetAction(parsed =>
        {
            IReadOnlyList<IntakeSong> songs = Songs(parsed.GetRequiredValue(path), parsed.GetValue(song));
            IntakeReport report;
            using (ProgressLine line = new())
            {
                report = IntakeCheck.Run(songs, (title, share) => line.Report($"checking {title}", share), interruption);
            }

            if (parsed.GetValue(picture) is { } file)
            {
                IntakePicture.Of(report).Save(file);
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, CheckJson.Of(report));
            }
            else if (parsed.GetValue(letter))
            {
                CheckText.WriteLetter(output, report);
            }
            else
            {
                CheckText.Write(output, report);
            }

            return report.HasStop ? Found : 0;
        });
        return verb;
    }

    private static IReadOnlyList<IntakeSong> Songs(string path, string? wanted)
    {
        bool isAlbum = File.Exists(AlbumFile.FileOf(AlbumFile.FolderOf(path)));
        if (isAlbum)
        {
            Album album = AlbumFile.Load(path, Processors.Catalogue);
            IReadOnlyList<int> chosen = SongChoice.From(album, wanted);
            IReadOnlyList<IntakeSong> all = IntakeSongs.Of(album, AlbumFile.FolderOf(path));
            return [.. chosen.Select(index => all[index])];
        }

        IReadOnlyList<IntakeSong> songs = IntakeSongs.In(path);
        return wanted is null ? songs : [songs[SongChoice.From([.. songs.Select(each => each.Title)], wanted)]];
    }
}
