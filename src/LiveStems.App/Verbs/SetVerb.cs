using System.CommandLine;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Delivery;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>set</c>: changes an album. Either everything that was asked for is done and saved, or nothing.</summary>
internal static class SetVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Argument<string[]> assignments = new("assignment") { Description = "ADDRESS=VALUE, as often as wanted.", Arity = ArgumentArity.ZeroOrMore };
        Option<string[]> add = new("--add") { Description = "CHAIN=PROCESSOR: adds a processor at the end of a chain, on a song bus before its last limiter." };
        Option<string[]> preset = new("--preset") { Description = "CHAIN=PRESET: adds the processors of a preset at the end, on a song bus before its last limiter; see 'livestems presets'." };
        Option<string[]> addParallel = new("--add-parallel") { Description = "SONG/STEM=NAME: adds a parallel to a stem." };
        Option<string[]> addMarker = new("--add-marker") { Description = "SONG/NAME=SECONDS: sets a marker in a song." };
        Option<string[]> addNote = new("--add-note") { Description = "SONG=TEXT or SONG@SECONDS=TEXT: writes a note down, such as what the client asked for; '=TEXT' for the album itself." };
        Option<double?> mostReduction = new("--most-reduction") { Description = "With --to-target: refuse where the limiter would take more than this many decibels." };
        Option<string[]> remove = new("--remove") { Description = "ADDRESS: removes a processor, parallel, marker, stem or song from the album; never a file." };
        Option<string[]> move = new("--move") { Description = "ADDRESS=POSITION: moves a processor in its chain, or a song in the album." };
        Option<bool> toTarget = new("--to-target") { Description = "Sets each song's limiter so that its master meets the target." };
        Option<string?> song = CommonOptions.Song();
        Option<bool> json = CommonOptions.Json();
        Command verb = new("set", "Changes an album: values, processors, parallels, limiter gains.")
        {
            album, assignments, add, preset, addParallel, addMarker, addNote, remove, move, toTarget, mostReduction, song, json,
        };
        verb.AddExamples(
            "livestems set Album \"Foghorn Waltz/Bass.gainDb=-1.5 dB\"",
            "livestems set Album --add \"Foghorn Waltz/Bass=equaliser\" \"Foghorn Waltz/Bass/equaliser.band1.frequencyHz=45 Hz\"",
            "livestems set Album --add-marker \"Foghorn Waltz/Chorus=62.5\"",
            "livestems set Album --add-note \"Foghorn Waltz@61.5=client: the voice may come up here\" \"Foghorn Waltz.state=sent\"",
            "livestems set Album \"Foghorn Waltz.isrc=AA-6Q7-26-00001\" \"Foghorn Waltz.fadeOutSeconds=4 s\" \"targets.leastPeakToLoudnessLu=9 LU\"",
            "livestems set Album --to-target --song 1");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            using AlbumSession session = AlbumSession.Open(path, Processors.Catalogue);
            Remark(parsed.InvocationConfiguration.Error, session);
            Album before = session.Album;
            Album after = before;
            foreach (string text in parsed.GetValue(addParallel) ?? [])
            {
                (string stem, string name) = AlbumAddress.SplitAssignment(text);
                after = AlbumEdits.AddParallel(after, stem, name, Processors.Catalogue);
            }

            foreach (string text in parsed.GetValue(add) ?? [])
            {
                (string chain, string processor) = AlbumAddress.SplitAssignment(text);
                after = AlbumEdits.AddProcessor(after, chain, processor, Processors.Catalogue);
            }

            foreach (string text in parsed.GetValue(preset) ?? [])
            {
                (string chain, string name) = AlbumAddress.SplitAssignment(text);
                ChainPreset found = PresetsVerb.Find(name);
                after = found.AddTo(after, chain, Processors.Catalogue);
                foreach (string remark in found.Remarks(Processors.Catalogue))
                {
                    parsed.InvocationConfiguration.Error.WriteLine($"livestems: {remark}");
                }
            }

            after = (parsed.GetValue(addMarker) ?? []).Aggregate(after, (changed, text) => AlbumEdits.AddMarker(changed, text, Processors.Catalogue));
            after = (parsed.GetValue(addNote) ?? []).Aggregate(after, (changed, text) => AlbumEdits.AddNote(changed, text, Processors.Catalogue));
            after = (parsed.GetValue(assignments) ?? []).Aggregate(after, (changed, text) => AlbumAddress.Set(changed, text, Processors.Catalogue));
            foreach (string text in parsed.GetValue(move) ?? [])
            {
                (string address, string position) = AlbumAddress.SplitAssignment(text);
                after = int.TryParse(position, out int place) && place >= 1
                    ? AlbumEdits.Move(after, address, place, Processors.Catalogue)
                    : throw new UsageException($"--move takes a position from 1, not '{position}'");
            }

            after = (parsed.GetValue(remove) ?? []).Aggregate(after, (changed, address) => AlbumEdits.Remove(changed, address, Processors.Catalogue));
            if (parsed.GetValue(toTarget))
            {
                after = MeetTargets(after, AlbumFile.FolderOf(path), SongChoice.From(after, parsed.GetValue(song)), interruption, MostReduction(parsed.GetValue(mostReduction)));
            }

            if (ReferenceEquals(before, after))
            {
                throw new UsageException("nothing to change; see 'livestems set --help'");
            }

            session.Do(after);
            session.Flush();
            ChangeText.Write(
                parsed.InvocationConfiguration.Output,
                AlbumDifference.Between(before, after, Processors.Catalogue),
                parsed.GetValue(json),
                "nothing changed: everything was so already");
            return 0;
        });
        return verb;
    }

    /// <summary>Sets the limiters of songs, by their places in the album, so that their masters meet their targets.</summary>
    public static Album MeetTargets(Album album, string albumFolder, IReadOnlyList<int> songs, CancellationToken interruption, double? mostReductionDb = null)
    {
        using ProgressLine line = new();
        int done = 0;
        foreach (int index in songs)
        {
            Song song = album.Songs[index];
            InlineProgress<double> progress = new(share => line.Report($"fitting {song.Title} to its target", (done + share) / songs.Count));
            Song fitted = TargetLoudness.Meet(song, song.Targets ?? album.Targets, albumFolder, Processors.Catalogue, progress, interruption, mostReductionDb);
            album = album with { Songs = album.Songs.SetItem(index, fitted) };
            done++;
        }

        return album;
    }

    private static double? MostReduction(double? decibels) => decibels is null or (> 0 and <= 60)
        ? decibels
        : throw new UsageException($"--most-reduction goes from above 0 to 60 dB, not {decibels}");

    private static void Remark(TextWriter errors, AlbumSession session)
    {
        if (session.Remark is { } remark)
        {
            errors.WriteLine($"livestems: {remark}");
        }
    }
}
