using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.App.Terminal;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.App.Verbs;

/// <summary><c>show</c>: reads an album without touching a sound file.</summary>
internal static class ShowVerb
{
    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Argument<string> album = CommonOptions.Album();
        Argument<string?> address = new("address")
        {
            Description = "A place in the album: a song, Song/Stem, Song/bus, Song/Stem/equaliser, Song/Stem.gainDb …",
            Arity = ArgumentArity.ZeroOrOne,
        };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("show", "Shows an album, or every value at a place in it.") { album, address, json };
        verb.AddExamples(
            "livestems show Album",
            "livestems show Album \"Foghorn Waltz/Bass\"",
            "livestems show Album 1/bus/limiter --json");
        verb.SetAction(parsed =>
        {
            TextWriter output = parsed.InvocationConfiguration.Output;
            string path = parsed.GetRequiredValue(album);
            Album loaded;
            try
            {
                loaded = AlbumFile.Load(path, Processors.Catalogue);
            }
            catch (AlbumException exception) when (exception.Faults.Count > 1)
            {
                foreach (AlbumFault fault in exception.Faults)
                {
                    parsed.InvocationConfiguration.Error.WriteLine($"livestems: {fault}");
                }

                return 2;
            }

            if (AlbumSession.FindUnsaved(path, Processors.Catalogue) is { } unsaved)
            {
                parsed.InvocationConfiguration.Error.WriteLine(
                    $"livestems: {unsaved}, were not saved when a session ended and are not shown here; 'livestems recover' takes them in");
            }

            foreach (string absent in AbsentProcessors.In(loaded, Processors.Catalogue))
            {
                parsed.InvocationConfiguration.Error.WriteLine("livestems: " + absent);
            }

            if (parsed.GetValue(address) is { } place)
            {
                ShowPlace(output, loaded, place, parsed.GetValue(json));
            }
            else if (parsed.GetValue(json))
            {
                output.WriteLine(System.Text.Encoding.UTF8.GetString(AlbumFile.ToBytes(loaded, AlbumFile.FileOf(path), Processors.Catalogue)).TrimEnd());
            }
            else
            {
                ShowAlbum(output, loaded);
            }

            return 0;
        });
        return verb;
    }

    private static void ShowPlace(TextWriter output, Album album, string place, bool asJson)
    {
        IEnumerable<AddressedValue> values = AlbumAddress.List(album, place, Processors.Catalogue);
        if (asJson)
        {
            JsonOutput.Write(output, JsonOutput.Array(values.Select(value => new JsonObject
            {
                ["address"] = value.Address,
                ["value"] = value.Text,
                ["canBeSet"] = value.CanBeSet,
            })));
            return;
        }

        foreach (AddressedValue value in values)
        {
            output.WriteLine($"{value.Address} = {value.Text}");
        }
    }

    private static void ShowAlbum(TextWriter output, Album album)
    {
        output.WriteLine($"{album.Title} · {album.Artist}");
        output.WriteLine(Targets(album.Targets));
        output.WriteLine();
        TextTable table = new("no", "song", "stems", "processors", "state", "target");
        for (int i = 0; i < album.Songs.Length; i++)
        {
            Song song = album.Songs[i];
            table.Add(
                (i + 1).ToString(),
                song.Title,
                song.Stems.Length.ToString(),
                (song.Stems.Sum(stem => stem.Chain.Slots.Length + stem.Parallels.Sum(parallel => parallel.Chain.Slots.Length)) + song.Bus.Slots.Length).ToString(),
                AlbumWords.State[song.State],
                song.Targets is null ? "as the album" : Targets(song.Targets));
        }

        table.WriteTo(output);
        Notes(output, album.Notes, string.Empty);
        foreach (Song song in album.Songs)
        {
            output.WriteLine();
            output.WriteLine(song.Title + (song.Isrc.Length > 0 ? $" · {Isrc.Written(song.Isrc)}" : string.Empty));
            if (song.Edges != SongEdges.Usual)
            {
                output.WriteLine($"  on the album: {EdgeWords.Of(song.Edges)}");
            }

            foreach (Stem stem in song.Stems)
            {
                output.WriteLine($"  {stem.Name}{(stem.Placement.Muted ? " (muted)" : string.Empty)}: {ChainText(stem.Chain)}");
                foreach (Parallel parallel in stem.Parallels)
                {
                    output.WriteLine($"    under it, {parallel.Name}: {ChainText(parallel.Chain)}");
                }
            }

            output.WriteLine($"  song bus: {ChainText(song.Bus)}");
            if (!song.Markers.IsEmpty)
            {
                output.WriteLine($"  markers: {string.Join(", ", song.Markers.OrderBy(marker => marker.AtSeconds).Select(marker => $"{marker.Name} at {AlbumFields.AtSeconds.Format(marker.AtSeconds)}"))}");
            }

            Notes(output, song.Notes, "  ");
            foreach (IntakeAnswer answer in song.Answers)
            {
                output.WriteLine($"  answer to the check: {answer.Said}");
            }
        }
    }

    private static void Notes(TextWriter output, IEnumerable<Note> notes, string indent)
    {
        foreach (Note note in notes)
        {
            output.WriteLine($"{indent}note{(note.AtSeconds is { } seconds ? $" at {Numbers.Length(seconds)}" : string.Empty)}: {note.Text}");
        }
    }

    private static string ChainText(Chain chain) =>
        chain.Slots.IsEmpty ? "–" : string.Join(" → ", chain.Slots.Select(slot => slot.Bypassed || chain.Bypassed ? $"({slot.Id})" : slot.Id));

    private static string Targets(DeliveryTargets targets)
    {
        string ratio = targets.LeastPeakToLoudnessLu is { } least ? $", peak-to-loudness ratio at least {Numbers.Text(least, 1)} LU" : string.Empty;
        return targets.IntegratedLufs is { } loudness
            ? $"{Numbers.Text(loudness, 1)} LUFS, at most {Numbers.Text(targets.CeilingDbtp, 1)} dBTP{ratio}"
            : $"at most {Numbers.Text(targets.CeilingDbtp, 1)} dBTP{ratio}";
    }
}
