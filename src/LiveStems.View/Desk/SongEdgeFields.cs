using LiveStems.Albums.Model;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>How a song begins, ends and joins the next, as values that are typed, dragged, turned and undone.</summary>
internal static class SongEdgeFields
{
    // The whole name is too long for a column; the sentence in the tip says it all.
    private static readonly AlbumField CrossFade = AlbumFields.CrossFadeSeconds with { Spec = AlbumFields.CrossFadeSeconds.Spec with { Name = "Cross-fade" } };

    private static readonly string[] Shapes = [.. AlbumWords.Fade.All];

    /// <summary>The values of a song.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="song">Says which song is meant, by its place.</param>
    public static IReadOnlyList<ValueField> Of(AlbumDesk desk, Func<int> song)
    {
        return
        [
            Seconds(AlbumFields.GapBeforeSeconds, edges => edges.GapBeforeSeconds, (edges, value) => edges with { GapBeforeSeconds = value }),
            Seconds(CrossFade, edges => edges.CrossFadeSeconds, (edges, value) => edges with { CrossFadeSeconds = value }),
            Seconds(AlbumFields.TrimStartSeconds, edges => edges.TrimStartSeconds, (edges, value) => edges with { TrimStartSeconds = value }),
            Seconds(AlbumFields.TrimEndSeconds, edges => edges.TrimEndSeconds, (edges, value) => edges with { TrimEndSeconds = value }),
            Seconds(AlbumFields.FadeInSeconds, edges => edges.FadeInSeconds, (edges, value) => edges with { FadeInSeconds = value }),
            Seconds(AlbumFields.FadeOutSeconds, edges => edges.FadeOutSeconds, (edges, value) => edges with { FadeOutSeconds = value }),
            Shape("fadeInShape", "Fade-in shape", edges => edges.FadeInShape, (edges, value) => edges with { FadeInShape = value }),
            Shape("fadeOutShape", "Fade-out shape", edges => edges.FadeOutShape, (edges, value) => edges with { FadeOutShape = value }),
        ];

        ValueField Seconds(AlbumField field, Func<SongEdges, double> read, Func<SongEdges, double, SongEdges> write) =>
            new($"edge:{field.Spec.Id}", field, () => read(Edges()), (value, gesture) => Put(write(Edges(), value), gesture));

        ValueField Shape(string id, string name, Func<SongEdges, FadeShape> read, Func<SongEdges, FadeShape, SongEdges> write) => new(
            $"edge:{id}",
            ParameterSpec.Choice(id, name, Shapes, (int)FadeShape.Smooth, "Smooth has no corner, equal power keeps the sum of two songs level, decibels goes as a hand on a fader."),
            () => (int)read(Edges()),
            (value, gesture) => Put(write(Edges(), (FadeShape)(int)value), gesture));

        SongEdges Edges() => desk.Album.Songs[song()].Edges;

        string? Put(SongEdges edges, string? gesture)
        {
            int place = song();
            return desk.Edit(album => album with { Songs = album.Songs.SetItem(place, album.Songs[place] with { Edges = edges }) }, gesture is null ? null : $"{gesture}:{place}");
        }
    }
}
