using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Albums.Storage;

/// <summary>What must hold in every album, whether it comes from a file, a command or the window.</summary>
public sealed class AlbumRules
{
    private readonly AlbumFaults faults;
    private readonly SlotRules slots;

    private AlbumRules(ProcessorCatalogue catalogue, AlbumFaults faults)
    {
        this.faults = faults;
        slots = new SlotRules(catalogue, faults);
    }

    /// <summary>Everything that is wrong with the album itself; files are not looked at.</summary>
    public static AlbumFaults Check(Album album, ProcessorCatalogue catalogue)
    {
        AlbumFaults faults = new();
        Check(album, catalogue, faults);
        return faults;
    }

    /// <summary>
    /// Stems and rough mixes whose files are not where the album says. Cheap: looks for the files and opens none.
    /// </summary>
    public static AlbumFaults MissingFiles(Album album, string albumFolder)
    {
        AlbumFaults faults = new();
        for (int s = 0; s < album.Songs.Length; s++)
        {
            Song song = album.Songs[s];
            FieldPath path = FieldPath.Root.Field("songs").Item(s);
            MissingFile(song.RoughMix, path.Field("roughMix"));
            for (int t = 0; t < song.Stems.Length; t++)
            {
                MissingFile(song.Stems[t].File, path.Field("stems").Item(t).Field("file"));
            }
        }

        return faults;

        void MissingFile(string? file, FieldPath path)
        {
            if (file is not null && !File.Exists(AlbumPath.OnDisk(albumFolder, file)))
            {
                faults.Add(path, $"'{file}' is not in the album's folder; put the file back or correct the path");
            }
        }
    }

    internal static void Check(Album album, ProcessorCatalogue catalogue, AlbumFaults faults)
    {
        AlbumRules rules = new(catalogue, faults);
        FieldPath root = FieldPath.Root;
        rules.Text(root, "title", album.Title);
        rules.Text(root, "artist", album.Artist);
        rules.Targets(root.Field("targets"), album.Targets);
        rules.Notes(root.Field("notes"), album.Notes);
        FieldPath songs = root.Field("songs");
        rules.Unique(songs, "title", album.Songs, song => song.Title);
        rules.Unique(songs, "isrc", album.Songs, song => song.Isrc);
        for (int i = 0; i < album.Songs.Length; i++)
        {
            rules.Song(songs.Item(i), album.Songs[i]);
        }
    }

    private void Song(FieldPath path, Song song)
    {
        Report(path, "title", NameRules.FaultOfName(song.Title));
        if (song.SampleRate is { } rate)
        {
            Range(path, AlbumFields.SampleRateHz, rate);
        }

        if (song.RoughMix is { } roughMix)
        {
            Report(path, "roughMix", AlbumPath.FaultOf(roughMix) ?? NameRules.FaultOfText(roughMix));
        }

        if (song.Targets is { } targets)
        {
            Targets(path.Field("targets"), targets);
        }

        FieldPath stems = path.Field("stems");
        Unique(stems, "name", song.Stems, stem => stem.Name);
        HashSet<string> stemNames = song.Stems.Select(stem => stem.Name).ToHashSet(StringComparer.Ordinal);
        for (int i = 0; i < song.Stems.Length; i++)
        {
            Stem(stems.Item(i), song.Stems[i], stemNames);
        }

        Chain(path.Field("bus"), song.Bus, stemNames);
        Notes(path.Field("notes"), song.Notes);
        Markers(path.Field("markers"), song.Markers);
        for (int i = 0; i < song.Answers.Length; i++)
        {
            Text(path.Field("answers").Item(i), "finding", song.Answers[i].Finding);
            Text(path.Field("answers").Item(i), "text", song.Answers[i].Text);
        }

        Report(path, "isrc", song.Isrc.Length == 0 || Isrc.IsCode(song.Isrc) ? null : FaultOfIsrc(song.Isrc));
        Edges(path.Field("edges"), song.Edges);
    }

    internal static string FaultOfIsrc(string text) =>
        $"'{text}' is no recording code; one has two letters, three letters or digits, two digits of the year and five more, such as AA-6Q7-26-00001";

    private void Edges(FieldPath path, SongEdges edges)
    {
        Range(path, AlbumFields.GapBeforeSeconds, edges.GapBeforeSeconds);
        Range(path, AlbumFields.TrimStartSeconds, edges.TrimStartSeconds);
        Range(path, AlbumFields.TrimEndSeconds, edges.TrimEndSeconds);
        Range(path, AlbumFields.FadeInSeconds, edges.FadeInSeconds);
        Range(path, AlbumFields.FadeOutSeconds, edges.FadeOutSeconds);
        Range(path, AlbumFields.CrossFadeSeconds, edges.CrossFadeSeconds);
    }

    private void Markers(FieldPath path, ImmutableArray<Marker> markers)
    {
        Unique(path, "name", markers, marker => marker.Name);
        for (int i = 0; i < markers.Length; i++)
        {
            Report(path.Item(i), "name", NameRules.FaultOfName(markers[i].Name));
            Range(path.Item(i), AlbumFields.AtSeconds, markers[i].AtSeconds);
        }
    }

    private void Stem(FieldPath path, Stem stem, HashSet<string> stemNames)
    {
        Report(path, "name", NameRules.FaultOfName(stem.Name));
        Report(path, "file", AlbumPath.FaultOf(stem.File) ?? NameRules.FaultOfText(stem.File));
        Report(path, "sha256", NameRules.FaultOfDigest(stem.Sha256));
        FieldPath placement = path.Field("placement");
        Range(placement, AlbumFields.GainDb, stem.Placement.GainDb);
        Range(placement, AlbumFields.Pan, stem.Placement.Pan);
        Range(placement, AlbumFields.DelayFrames, stem.Placement.DelayFrames);
        Chain(path.Field("chain"), stem.Chain, stemNames);
        FieldPath parallels = path.Field("parallels");
        Unique(parallels, "name", stem.Parallels, parallel => parallel.Name);
        for (int i = 0; i < stem.Parallels.Length; i++)
        {
            Parallel parallel = stem.Parallels[i];
            Report(parallels.Item(i), "name", NameRules.FaultOfName(parallel.Name));
            Range(parallels.Item(i), AlbumFields.BlendDb, parallel.BlendDb);
            Range(parallels.Item(i), AlbumFields.AlignSamples, parallel.AlignSamples);
            Chain(parallels.Item(i).Field("chain"), parallel.Chain, stemNames);
        }

        Notes(path.Field("notes"), stem.Notes);
    }

    private void Chain(FieldPath path, Chain chain, HashSet<string> stemNames)
    {
        FieldPath list = path.Field("slots");
        Unique(list, "id", chain.Slots, slot => slot.Id);
        for (int i = 0; i < chain.Slots.Length; i++)
        {
            slots.Check(list.Item(i), chain.Slots[i], stemNames);
        }
    }

    private void Targets(FieldPath path, DeliveryTargets targets)
    {
        if (targets.IntegratedLufs is { } loudness)
        {
            Range(path, AlbumFields.IntegratedLufs, loudness);
        }

        Range(path, AlbumFields.CeilingDbtp, targets.CeilingDbtp);
        if (targets.LeastPeakToLoudnessLu is { } ratio)
        {
            Range(path, AlbumFields.LeastPeakToLoudnessLu, ratio);
        }
    }

    private void Notes(FieldPath path, ImmutableArray<Note> notes)
    {
        for (int i = 0; i < notes.Length; i++)
        {
            Text(path.Item(i), "text", notes[i].Text);
            if (notes[i].AtSeconds is { } seconds)
            {
                Range(path.Item(i), AlbumFields.AtSeconds, seconds);
            }
        }
    }

    // Commands find names whatever the case of their letters, so two that differ only there would be one.
    private void Unique<T>(FieldPath path, string field, ImmutableArray<T> items, Func<T, string> nameOf)
    {
        if (items.Length < 2)
        {
            return;
        }

        HashSet<string> seen = new(items.Length, StringComparer.OrdinalIgnoreCase);
        for (int i = 0; i < items.Length; i++)
        {
            string name = nameOf(items[i]);
            if (name.Length > 0 && !seen.Add(name))
            {
                faults.Add(path.Item(i).Field(field), $"'{name}' is there twice; give one of them another {field}");
            }
        }
    }

    private void Range(FieldPath path, AlbumField field, double value) => faults.AddRange(path, field, value);

    private void Text(FieldPath path, string field, string text) => Report(path, field, NameRules.FaultOfText(text));

    private void Report(FieldPath path, string field, string? fault)
    {
        if (fault is not null)
        {
            faults.Add(path.Field(field), fault);
        }
    }
}
