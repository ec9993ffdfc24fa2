using System.Buffers;
using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Albums.Storage;

/// <summary>From the records of the album to UTF-8 text, always in the same order and form.</summary>
internal sealed class AlbumWriter
{
    private static readonly JsonWriterOptions Form = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, // The text never stands inside HTML, and é stays readable.
    };

    private readonly Utf8JsonWriter json;
    private readonly SlotWriter slots;

    private AlbumWriter(Utf8JsonWriter json, ProcessorCatalogue catalogue)
    {
        this.json = json;
        slots = new SlotWriter(json, catalogue);
    }

    /// <summary>The whole file, with a line end at its end.</summary>
    public static byte[] Write(Album album, ProcessorCatalogue catalogue)
    {
        ArrayBufferWriter<byte> text = new();
        Write(album, catalogue, text);
        return text.WrittenSpan.ToArray();
    }

    /// <summary>The same, added to what may be used again.</summary>
    public static void Write(Album album, ProcessorCatalogue catalogue, IBufferWriter<byte> text)
    {
        using (Utf8JsonWriter json = new(text, Form))
        {
            new AlbumWriter(json, catalogue).Album(album);
        }

        text.Write("\n"u8);
    }

    private void Album(Album album)
    {
        json.WriteStartObject();
        json.WriteNumber(AlbumSchema.Field, AlbumSchema.Current);
        json.WriteString("title", album.Title);
        json.WriteString("artist", album.Artist);
        Targets(album.Targets);
        List("songs", album.Songs, Song);
        List("notes", album.Notes, Note);
        End(album.Unknown);
    }

    private void Song(Song song)
    {
        json.WriteString("title", song.Title);
        if (song.SampleRate is { } rate)
        {
            json.WriteNumber("sampleRateHz", rate);
        }

        if (song.RoughMix is { } roughMix)
        {
            json.WriteString("roughMix", roughMix);
        }

        if (song.Targets is { } targets)
        {
            Targets(targets);
        }

        List("stems", song.Stems, Stem);
        Chain("bus", song.Bus);
        List("notes", song.Notes, Note);
        if (!song.Markers.IsEmpty)
        {
            List("markers", song.Markers, Marker);
        }

        if (!song.Answers.IsEmpty)
        {
            List("answers", song.Answers, Answer);
        }

        if (song.Isrc.Length > 0)
        {
            json.WriteString("isrc", song.Isrc);
        }

        if (song.State != SongState.Open)
        {
            json.WriteString("state", AlbumWords.State[song.State]);
        }

        if (song.Edges != SongEdges.Usual)
        {
            Edges(song.Edges);
        }

        End(song.Unknown);
    }

    private void Stem(Stem stem)
    {
        json.WriteString("name", stem.Name);
        json.WriteString("file", stem.File);
        json.WriteString("sha256", stem.Sha256);
        json.WriteString("role", AlbumWords.Role[stem.Role]);
        Placement(stem.Placement);
        Chain("chain", stem.Chain);
        List("parallels", stem.Parallels, Parallel);
        List("notes", stem.Notes, Note);
        End(stem.Unknown);
    }

    private void Parallel(Parallel parallel)
    {
        json.WriteString("name", parallel.Name);
        json.WriteBoolean("afterChain", parallel.AfterChain);
        json.WriteNumber("blendDb", parallel.BlendDb);
        json.WriteBoolean("muted", parallel.Muted);
        if (parallel.AlignSamples != 0)
        {
            json.WriteNumber("alignSamples", parallel.AlignSamples);
        }

        if (parallel.IsEqualiserLinked)
        {
            json.WriteBoolean("equaliserLinked", true);
        }

        Chain("chain", parallel.Chain);
        End(parallel.Unknown);
    }

    private void Chain(string name, Chain chain)
    {
        json.WriteStartObject(name);
        json.WriteBoolean("bypassed", chain.Bypassed);
        List("slots", chain.Slots, slots.Write);
        End(chain.Unknown);
    }

    private void Placement(Placement placement)
    {
        json.WriteStartObject("placement");
        json.WriteNumber("gainDb", placement.GainDb);
        json.WriteNumber("pan", placement.Pan);
        json.WriteString("polarity", AlbumWords.Polarity[placement.Polarity]);
        json.WriteNumber("delayFrames", placement.DelayFrames);
        json.WriteBoolean("muted", placement.Muted);
        json.WriteBoolean("soloed", placement.Soloed);
        End(placement.Unknown);
    }

    private void Targets(DeliveryTargets targets)
    {
        json.WriteStartObject("targets");
        if (targets.IntegratedLufs is { } loudness)
        {
            json.WriteNumber("integratedLufs", loudness);
        }

        json.WriteNumber("ceilingDbtp", targets.CeilingDbtp);
        if (targets.LeastPeakToLoudnessLu is { } ratio)
        {
            json.WriteNumber("leastPeakToLoudnessLu", ratio);
        }

        End(targets.Unknown);
    }

    private void Edges(SongEdges edges)
    {
        json.WriteStartObject("edges");
        json.WriteNumber("gapBeforeSeconds", edges.GapBeforeSeconds);
        json.WriteNumber("trimStartSeconds", edges.TrimStartSeconds);
        json.WriteNumber("trimEndSeconds", edges.TrimEndSeconds);
        json.WriteNumber("fadeInSeconds", edges.FadeInSeconds);
        json.WriteString("fadeInShape", AlbumWords.Fade[edges.FadeInShape]);
        json.WriteNumber("fadeOutSeconds", edges.FadeOutSeconds);
        json.WriteString("fadeOutShape", AlbumWords.Fade[edges.FadeOutShape]);
        json.WriteNumber("crossFadeSeconds", edges.CrossFadeSeconds);
        End(edges.Unknown);
    }

    private void Answer(IntakeAnswer answer)
    {
        if (answer.Stem is { } stem)
        {
            json.WriteString("stem", stem);
        }

        json.WriteString("finding", answer.Finding);
        json.WriteString("text", answer.Text);
        End(answer.Unknown);
    }

    private void Note(Note note)
    {
        if (note.AtSeconds is { } seconds)
        {
            json.WriteNumber("atSeconds", seconds);
        }

        json.WriteString("text", note.Text);
        End(note.Unknown);
    }

    private void Marker(Marker marker)
    {
        json.WriteString("name", marker.Name);
        json.WriteNumber("atSeconds", marker.AtSeconds);
        End(marker.Unknown);
    }

    private void List<T>(string name, ImmutableArray<T> items, Action<T> write)
    {
        json.WriteStartArray(name);
        foreach (T item in items)
        {
            json.WriteStartObject();
            write(item);
        }

        json.WriteEndArray();
    }

    private void End(UnknownFields unknown) => UnknownFieldsWriter.End(json, unknown);
}
