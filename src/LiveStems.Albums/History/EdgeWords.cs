using LiveStems.Albums.Model;

namespace LiveStems.Albums.History;

/// <summary>How a song stands on the album, in words.</summary>
public static class EdgeWords
{
    /// <summary>"4 s before it, first 0.3 s cut, 6 s fade out (smooth)"; nothing that goes without saying.</summary>
    public static string Of(SongEdges edges)
    {
        List<string> words = [];
        Say(edges.GapBeforeSeconds != SongEdges.Usual.GapBeforeSeconds, $"{Seconds(edges.GapBeforeSeconds)} before it");
        Say(edges.TrimStartSeconds > 0, $"first {Seconds(edges.TrimStartSeconds)} cut");
        Say(edges.FadeInSeconds > 0, $"{Seconds(edges.FadeInSeconds)} fade in ({AlbumWords.Fade[edges.FadeInShape]})");
        Say(edges.TrimEndSeconds > 0, $"last {Seconds(edges.TrimEndSeconds)} cut");
        Say(edges.FadeOutSeconds > 0, $"{Seconds(edges.FadeOutSeconds)} fade out ({AlbumWords.Fade[edges.FadeOutShape]})");
        Say(edges.CrossFadeSeconds > 0, $"{Seconds(edges.CrossFadeSeconds)} cross-fade into the next");
        return words.Count == 0 ? "as rendered" : string.Join(", ", words);

        void Say(bool isSo, string what)
        {
            if (isSo)
            {
                words.Add(what);
            }
        }
    }

    private static string Seconds(double value) => $"{NumberText.Of(value)} s";
}
