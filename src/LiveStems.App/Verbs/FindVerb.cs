using System.CommandLine;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Trouble;
using LiveStems.App.Terminal;
using LiveStems.Files.Reading;

namespace LiveStems.App.Verbs;

/// <summary><c>find</c>: what is too much or hurts in a song's stems, when, and what would mend it.</summary>
internal static class FindVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> song = CommonOptions.Song();
        Option<string?> stem = new("--stem") { Description = "A stem by name, beginning of its name, or number; all stems when left out." };
        Option<double> level = new("--level") { Description = "Listening level: dB SPL at which −20 dBFS RMS is heard, 40 to 100.", DefaultValueFactory = _ => 75 };
        Option<double> sensitivity = new("--sensitivity") { Description = "dB by which less (below 0) or more (above 0) is pointed out, −3 to 3." };
        Option<int[]> apply = new("--apply") { Description = "Adds the correction for a finding, by number, to the album: bypassed, marked as suggested.", AllowMultipleArgumentsPerToken = true };
        Option<string?> picture = new("--picture") { Description = "Writes a picture of the findings over frequency and time to a PNG file." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("find", "Points at what stands out of a stem or hurts the ear: resonances, glare, sibilance, hum, rumble, hiss; when, how much, and what would mend it.")
        {
            album, song, stem, level, sensitivity, apply, picture, json,
        };
        verb.AddExamples(
            "livestems find Album --song 1",
            "livestems find Album --song \"Foghorn\" --stem \"Lead voice\" --level 80",
            "livestems find Album --song 1 --stem Bass --apply 2");
        verb.SetAction(parsed =>
        {
            TextWriter output = parsed.InvocationConfiguration.Output;
            string path = parsed.GetRequiredValue(album);
            Album loaded = AlbumFile.Load(path, Processors.Catalogue);
            int songIndex = OneSong(loaded, parsed.GetValue(song));
            FindOptions options = Checked(parsed.GetValue(level), parsed.GetValue(sensitivity));
            List<NumberedFinding> findings = Search(loaded.Songs[songIndex], AlbumFile.FolderOf(path), parsed.GetValue(stem), options, interruption, out List<string> remarks);
            int[] wanted = parsed.GetValue(apply) ?? [];
            if (parsed.GetValue(picture) is { } file)
            {
                View.Pictures.TroublePicture.Save(loaded.Songs[songIndex].Title, [.. findings.Select(each => (each.StemName, each.Finding))], file);
            }

            if (wanted.Length > 0)
            {
                Apply(path, songIndex, findings, wanted, output, parsed.GetValue(json));
            }
            else if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, FindText.ToJson(loaded.Songs[songIndex].Title, options.LevelDb, findings, remarks));
            }
            else
            {
                FindText.Write(output, loaded.Songs[songIndex].Title, options.LevelDb, findings, remarks);
            }

            return findings.Count == 0 || wanted.Length > 0 ? 0 : 1;
        });
        return verb;
    }

    private static int OneSong(Album album, string? wanted)
    {
        IReadOnlyList<int> songs = SongChoice.From(album, wanted);
        return songs.Count == 1 ? songs[0] : throw new UsageException($"--song is needed; there are {string.Join(", ", album.Songs.Select((song, index) => $"{index + 1} {song.Title}"))}");
    }

    private static FindOptions Checked(double level, double sensitivity)
    {
        if (level is not (>= 40 and <= 100))
        {
            throw new UsageException($"--level goes from 40 to 100 dB SPL, not {level}");
        }

        return sensitivity is >= -3 and <= 3
            ? new FindOptions(level, sensitivity)
            : throw new UsageException($"--sensitivity goes from −3 to 3 dB, not {sensitivity}");
    }

    private static List<NumberedFinding> Search(
        Song song, string folder, string? wantedStem, FindOptions options, CancellationToken interruption, out List<string> remarks)
    {
        int[] stems = wantedStem is null ? [.. Enumerable.Range(0, song.Stems.Length)] : [AlbumAddress.StemIndex(song, wantedStem)];
        using ProgressLine line = new();
        TroubleReport[] reports = new TroubleReport[stems.Length];
        double[] shares = new double[stems.Length];
        try
        {
            System.Threading.Tasks.Parallel.For(0, stems.Length, new ParallelOptions { CancellationToken = interruption, MaxDegreeOfParallelism = Environment.ProcessorCount }, place =>
            {
                Stem stem = song.Stems[stems[place]];
                using IAudioReader reader = AudioFile.Open(Path.Combine(folder, stem.File));
                InlineProgress<double> progress = new(share =>
                {
                    shares[place] = share;
                    line.Report($"searching {song.Title}", shares.Average());
                });
                reports[place] = TroubleSearch.Search(reader, new TroubleSettings(stem.Role, options.LevelDb, options.SensitivityDb), progress, interruption);
            });
        }
        catch (AggregateException several)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(several.InnerExceptions[0]);
        }

        remarks = [.. stems.SelectMany((stem, place) => reports[place].NotJudged.Select(text => $"{song.Stems[stem].Name}: {text}"))];
        List<(int Stem, TroubleFinding Finding)> all = [.. stems.SelectMany((stem, place) => reports[place].Findings.Select(finding => (stem, finding)))];
        List<(int Stem, TroubleFinding Finding)> bySurplus = [.. all.OrderByDescending(each => each.Finding.SurplusDb)];
        List<(int Stem, TroubleFinding Finding)> byPiercing = [.. all.OrderByDescending(each => each.Finding.PiercingSone)];
        return [.. bySurplus.Select((each, place) => new NumberedFinding(
            place + 1, byPiercing.FindIndex(other => ReferenceEquals(other.Finding, each.Finding)) + 1, each.Stem, song.Stems[each.Stem].Name, each.Finding))];
    }

    private static void Apply(string path, int song, List<NumberedFinding> findings, int[] wanted, TextWriter output, bool asJson)
    {
        using AlbumSession session = AlbumSession.Open(path, Processors.Catalogue);
        List<(NumberedFinding Finding, string Address)> applied = [];
        foreach (int number in wanted)
        {
            NumberedFinding finding = findings.Find(each => each.Number == number)
                ?? throw new UsageException($"there is no finding {number}; {(findings.Count == 0 ? "nothing was found" : $"they go from 1 to {findings.Count}")}");
            (Album changed, string address) = SuggestedSlot.Add(session.Album, song, finding.StemIndex, finding.Finding, Processors.Catalogue);
            session.Do(changed, $"suggested for {finding.StemName}: {FindingWords.Of(finding.Finding)}");
            applied.Add((finding, address));
        }

        session.Flush();
        FindText.WriteApplied(output, path, applied, asJson);
    }

    private sealed record FindOptions(double LevelDb, double SensitivityDb);
}
