using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;
using LiveStems.Engine.RealTime;

namespace LiveStems.Analysis.Delivery;

/// <summary>The album as it is listened to: all songs in one sound, with their gaps, cuts, fades and cross-fades.</summary>
/// <param name="songs">Title, kept master and edges of each song; all at one rate.</param>
internal sealed class ContinuousAlbum(IReadOnlyList<(string Title, string Path, SongEdges Edges)> songs)
{
    private const int BlockFrames = 4096;

    /// <summary>All that decides the sound, in words.</summary>
    public string Signature => string.Join('|', songs.Select(song => $"{Path.GetFileName(song.Path)} {Albums.History.EdgeWords.Of(song.Edges)}"));

    /// <summary>What helps where the whole passes a ceiling that every song keeps: null where no two songs sound together.</summary>
    public string? CeilingAdvice
    {
        get
        {
            string[] crossed = [.. Enumerable.Range(0, songs.Count - 1).Where(i => songs[i].Edges.CrossFadeSeconds > 0).Select(i => $"from '{songs[i].Title}' to '{songs[i + 1].Title}'")];
            return crossed.Length == 0 ? null
                : $"two songs that sound together add up: shorten the cross-fade {string.Join(" or ", crossed)} (crossFadeSeconds), or fade the first one out before";
        }
    }

    /// <summary>Where the songs stand.</summary>
    /// <param name="sampleRate">The rate that all have.</param>
    /// <exception cref="DeliveryException">The rates differ or are no multiple of 75, or edges do not fit.</exception>
    public IReadOnlyList<PlacedSong> Place(out int sampleRate)
    {
        List<(string, long, SongEdges)> lengths = [];
        int? rate = null;
        foreach ((string title, string path, SongEdges edges) in songs)
        {
            using EdgedSound sound = new(path, title, edges, BlockFrames);
            if (rate is { } other && other != sound.SampleRate)
            {
                throw OtherRate(title, sound.SampleRate, other);
            }

            rate = sound.SampleRate;
            lengths.Add((title, sound.Frames, edges));
        }

        sampleRate = rate!.Value;
        CheckRate(sampleRate);
        return AlbumLayout.Place(lengths, sampleRate);
    }

    /// <summary>What is said of songs at different rates.</summary>
    internal static DeliveryException OtherRate(string title, int sampleRate, int before) =>
        new($"'{title}' runs at {sampleRate} Hz and the songs before at {before} Hz; name a format with a rate first, such as --format disc");

    /// <summary>Tracks start on frames of a 75th of a second.</summary>
    /// <exception cref="DeliveryException">At this rate they can't.</exception>
    internal static void CheckRate(int sampleRate)
    {
        if (!DiscTime.Divides(sampleRate))
        {
            throw new DeliveryException($"{sampleRate} Hz is no multiple of 75 frames a second, so tracks can't start on them; name a format with another rate");
        }
    }

    /// <summary>Writes the sound.</summary>
    public void Write(IRenderSink sink, CancellationToken cancellation)
    {
        IReadOnlyList<PlacedSong> places = Place(out int rate);
        long length = AlbumLayout.Length(places, rate);
        float[] left = new float[BlockFrames];
        float[] right = new float[BlockFrames];
        LinkedList<Playing> playing = [];
        int next = 0;
        try
        {
            for (long start = 0; start < length; start += BlockFrames)
            {
                cancellation.ThrowIfCancellationRequested();
                int frames = (int)Math.Min(BlockFrames, length - start);
                Array.Clear(left);
                Array.Clear(right);
                for (; next < songs.Count && places[next].Start < start + frames; next++)
                {
                    playing.AddLast(Open(next, places[next], rate));
                }

                for (LinkedListNode<Playing>? node = playing.First; node is not null;)
                {
                    LinkedListNode<Playing>? following = node.Next;
                    node.Value.AddTo(left, right, start, frames);
                    if (node.Value.Place.End <= start + frames)
                    {
                        node.Value.Sound.Dispose();
                        playing.Remove(node);
                    }

                    node = following;
                }

                sink.Write(left.AsSpan(0, frames), right.AsSpan(0, frames));
            }
        }
        finally
        {
            foreach (Playing each in playing)
            {
                each.Sound.Dispose();
            }
        }
    }

    private Playing Open(int index, PlacedSong place, int rate) => new(
        new EdgedSound(songs[index].Path, songs[index].Title, songs[index].Edges, BlockFrames),
        place,
        Crossing(index == 0 ? 0 : AlbumLayout.CrossedSamples(songs[index - 1].Edges, rate)),
        Crossing(index == songs.Count - 1 ? 0 : AlbumLayout.CrossedSamples(songs[index].Edges, rate)));

    private static EdgeFade Crossing(long frames) => new(frames, FadeShape.EqualPower);

    private sealed record Playing(EdgedSound Sound, PlacedSong Place, EdgeFade Arriving, EdgeFade Leaving)
    {
        public void AddTo(float[] left, float[] right, long start, int frames)
        {
            int from = (int)Math.Max(0, Place.Start - start);
            int count = (int)Math.Min(frames, Place.End - start) - from;
            Sound.Read(count);
            long at = start + from - Place.Start;
            for (int i = 0; i < count; i++, at++)
            {
                double gain = Arriving.GainAt(at) * Leaving.GainAt(Sound.Frames - at - 1);
                left[from + i] += (float)(Sound.Left[i] * gain);
                right[from + i] += (float)(Sound.Right[i] * gain);
            }
        }
    }
}
