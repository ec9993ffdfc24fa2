using System.CommandLine;
using System.Runtime.CompilerServices;
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
        Option<string[]> answer = new("--answer") { Description = "NUMBER TEXT: writes down what the client or the mix engineer said to a finding, by the number it is listed with (with the same --song); an empty text takes the answer back. Answers stand in the papers.", Arity = new ArgumentArity(0, 2), AllowMultipleArgumentsPerToken = true };
        Option<string?> picture = CommonOptions.Picture();
        Option<bool> json = CommonOptions.Json();
        Command verb = new("check", "Checks what arrived: format, length, alignment, polarity, silence, dropouts, clicks, clipping, offset, sides, noise, bits, and the sum of the stems against the rough mix. Exit code 1 when something must be cleared first and is not answered.")
        {
            path, song, letter, answer, picture, json,
        };
        verb.AddExamples(
            "livestems check Album",
            "livestems check \"Stems/01 Foghorn Waltz\" --letter",
            "livestems check Album --answer 3 \"meant so: the tape hiss stays\"",
            "livestems check Album --song 2 --json --picture check.png");
        verb.SetAction(parsed =>
        {
            IReadOnlyList<IntakeSong> songs = Songs(parsed.GetRequiredValue(path), parsed.GetValue(song));
            IntakeReport report;
            using (ProgressLine line = new())
            {
                report = IntakeCheck.Run(songs, (title, share) => line.Report($"checking {title}", share), interruption);
            }

            Album? album = AlbumAt(parsed.GetRequiredValue(path));
            if (parsed.GetValue(answer) is { Length: > 0 } words)
            {
                album = Answer(parsed.GetRequiredValue(path), album, report, words);
            }

            if (RuntimeFeature.IsDynamicCodeSupported && parsed.GetValue(picture) is { } file)
            {
                IntakePicture.Of(report).Save(file);
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, CheckJson.Of(report, album));
            }
            else if (parsed.GetValue(letter))
            {
                CheckText.WriteLetter(output, report, album);
            }
            else
            {
                CheckText.Write(output, report, album);
            }

            return report.Findings.Any(finding => finding.Rank == FindingRank.Stop && (album is null || IntakeAnswers.To(album, finding) is null)) ? Found : 0;
        });
        return verb;
    }

    private static Album? AlbumAt(string path) =>
        File.Exists(AlbumFile.FileOf(AlbumFile.FolderOf(path))) ? AlbumFile.Load(path, Processors.Catalogue) : null;

    private static Album Answer(string path, Album? album, IntakeReport report, string[] words)
    {
        if (words.Length != 2 || !int.TryParse(words[0], out int number))
        {
            throw new UsageException("--answer takes the number of a finding and a text, such as --answer 3 \"meant so\"");
        }

        if (album is null)
        {
            throw new UsageException($"{path} is no album that could keep an answer; 'livestems import' makes one of a folder");
        }

        if (number < 1 || number > report.Findings.Count)
        {
            throw new UsageException(report.Findings.Count == 0 ? "nothing was found, so there is nothing to answer" : $"there are findings 1 to {report.Findings.Count}, not {number}");
        }

        using AlbumSession session = AlbumSession.Open(path, Processors.Catalogue);
        session.Do(IntakeAnswers.Answer(session.Album, report.Findings[number - 1], words[1]));
        session.Flush();
        return session.Album;
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
