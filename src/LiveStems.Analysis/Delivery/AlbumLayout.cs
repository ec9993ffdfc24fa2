using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Delivery;

/// <summary>A song on the continuous album, in samples from its start.</summary>
/// <param name="Start">Where its sound starts.</param>
/// <param name="End">Where its sound ends.</param>
/// <param name="Pause">Where the pause before it starts, on a frame boundary; null for none.</param>
/// <param name="Mark">Where its track starts, on a frame boundary.</param>
public sealed record PlacedSong(long Start, long End, long? Pause, long Mark);

/// <summary>Where the songs stand on the continuous album.</summary>
/// <remarks>
/// Behind a gap a song starts on a frame boundary, the gap made longer by less than a frame. Songs that follow without a
/// gap, or fade into each other, join to the sample, and the mark is the boundary before.
/// </remarks>
public static class AlbumLayout
{
    /// <summary>Places songs one behind the other.</summary>
    /// <param name="songs">Title, length in samples, and edges of each.</param>
    /// <param name="sampleRate">Samples per second, a multiple of 75.</param>
    /// <exception cref="DeliveryException">A cross-fade is longer than one of its songs.</exception>
    public static IReadOnlyList<PlacedSong> Place(IReadOnlyList<(string Title, long Samples, SongEdges Edges)> songs, int sampleRate)
    {
        List<PlacedSong> placed = [];
        for (int i = 0; i < songs.Count; i++)
        {
            (string title, long samples, SongEdges edges) = songs[i];
            if (i == 0)
            {
                placed.Add(new PlacedSong(0, samples, null, 0));
                continue;
            }

            long end = placed[^1].End;
            long crossed = CrossedSamples(songs[i - 1].Edges, sampleRate);
            long gap = crossed > 0 ? 0 : (long)Math.Round(edges.GapBeforeSeconds * sampleRate);
            long before = i == 1 ? 0 : CrossedSamples(songs[i - 2].Edges, sampleRate);
            if (crossed > 0 && before > 0 && crossed + before > songs[i - 1].Samples && Math.Max(crossed, before) <= songs[i - 1].Samples)
            {
                throw new DeliveryException($"'{songs[i - 1].Title}' is {(double)songs[i - 1].Samples / sampleRate:0.0} s long; the cross-fades before and behind it, {songs[i - 2].Edges.CrossFadeSeconds:0.##} s and {songs[i - 1].Edges.CrossFadeSeconds:0.##} s, are longer together; shorten one");
            }

            if (crossed > 0 && crossed + Math.Max(before, 0) > songs[i - 1].Samples || crossed > samples)
            {
                throw new DeliveryException($"the cross-fade of {songs[i - 1].Edges.CrossFadeSeconds:0.##} s from '{songs[i - 1].Title}' to '{title}' is longer than one of them; shorten it");
            }

            long start = gap > 0 ? DiscTime.Up(end + gap, sampleRate) : end - crossed;
            placed.Add(new PlacedSong(start, start + samples, gap > 0 ? DiscTime.Up(end, sampleRate) : null, DiscTime.Down(start, sampleRate)));
        }

        return placed;
    }

    /// <summary>Samples that a song and the next sound together.</summary>
    public static long CrossedSamples(SongEdges edges, int sampleRate) => (long)Math.Round(edges.CrossFadeSeconds * sampleRate);

    /// <summary>Length of the whole, to the end of a frame.</summary>
    public static long Length(IReadOnlyList<PlacedSong> songs, int sampleRate) => DiscTime.Up(songs[^1].End, sampleRate);
}
