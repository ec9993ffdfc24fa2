using LiveStems.Albums.Model;

namespace LiveStems.Albums.Editing;

/// <summary>How a song begins, ends and joins the next, as fields of the song.</summary>
internal static class EdgeFields
{
    public static IEnumerable<AddressField> Of(Place<SongEdges> place)
    {
        SongEdges edges = place.Value;
        return
        [
            FieldMaker.Number(AlbumFields.GapBeforeSeconds, edges.GapBeforeSeconds, value => place.Put(edges with { GapBeforeSeconds = value })),
            FieldMaker.Number(AlbumFields.TrimStartSeconds, edges.TrimStartSeconds, value => place.Put(edges with { TrimStartSeconds = value })),
            FieldMaker.Number(AlbumFields.TrimEndSeconds, edges.TrimEndSeconds, value => place.Put(edges with { TrimEndSeconds = value })),
            FieldMaker.Number(AlbumFields.FadeInSeconds, edges.FadeInSeconds, value => place.Put(edges with { FadeInSeconds = value })),
            FieldMaker.Word("fadeInShape", AlbumWords.Fade, edges.FadeInShape, value => place.Put(edges with { FadeInShape = value })),
            FieldMaker.Number(AlbumFields.FadeOutSeconds, edges.FadeOutSeconds, value => place.Put(edges with { FadeOutSeconds = value })),
            FieldMaker.Word("fadeOutShape", AlbumWords.Fade, edges.FadeOutShape, value => place.Put(edges with { FadeOutShape = value })),
            FieldMaker.Number(AlbumFields.CrossFadeSeconds, edges.CrossFadeSeconds, value => place.Put(edges with { CrossFadeSeconds = value })),
        ];
    }
}
