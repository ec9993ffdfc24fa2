using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Engine.RealTime;

namespace LiveStems.Analysis.Delivery;

/// <summary>A kept sound as it stands on the album: cut at its ends and faded. Read once, from its start.</summary>
internal sealed class EdgedSound : IDisposable
{
    private readonly StoredSound sound;
    private readonly EdgeFade fadeIn;
    private readonly EdgeFade fadeOut;
    private long position;

    /// <param name="path">The sound.</param>
    /// <param name="title">Title of the song, for messages.</param>
    /// <param name="edges">What is done to it.</param>
    /// <param name="mostFrames">The longest stretch that is read, at least 1.</param>
    /// <exception cref="DeliveryException">The cuts or fades are longer than the song.</exception>
    public EdgedSound(string path, string title, SongEdges edges, int mostFrames)
    {
        sound = new StoredSound(path, mostFrames);
        long start = ToFrames(edges.TrimStartSeconds);
        Frames = sound.Frames - start - ToFrames(edges.TrimEndSeconds);
        fadeIn = new EdgeFade(edges.FadeInSeconds, edges.FadeInShape, SampleRate);
        fadeOut = new EdgeFade(edges.FadeOutSeconds, edges.FadeOutShape, SampleRate);
        if (Frames <= 0 || fadeIn.Frames + fadeOut.Frames > Frames)
        {
            double seconds = (double)sound.Frames / sound.SampleRate;
            sound.Dispose();
            throw LeaveNothing(title, seconds, edges);
        }

        for (long left = start; left > 0; left -= mostFrames)
        {
            sound.Read((int)Math.Min(left, mostFrames));
        }
    }

    /// <summary>Frames that are left of it.</summary>
    public long Frames { get; }

    /// <summary>Frames per second.</summary>
    public int SampleRate => sound.SampleRate;

    /// <summary>The left side of the last stretch.</summary>
    public float[] Left => sound.Left;

    /// <summary>The right side of the last stretch.</summary>
    public float[] Right => sound.Right;

    /// <summary>Reads the next frames; behind the end there is silence.</summary>
    public void Read(int frames)
    {
        sound.Read(frames);
        for (int i = 0; i < frames; i++)
        {
            long at = position + i;
            if (at >= Frames)
            {
                Left[i] = Right[i] = 0;
            }
            else if (at < fadeIn.Frames || at >= Frames - fadeOut.Frames)
            {
                double gain = fadeIn.GainAt(at) * fadeOut.GainAt(Frames - at - 1);
                Left[i] = (float)(Left[i] * gain);
                Right[i] = (float)(Right[i] * gain);
            }
        }

        position += frames;
    }

    /// <summary>Closes the sound.</summary>
    public void Dispose() => sound.Dispose();

    /// <summary>What is said of cuts and fades that are longer than their song.</summary>
    internal static DeliveryException LeaveNothing(string title, double seconds, SongEdges edges) =>
        new($"'{title}' is {seconds:0.0} s long; its cuts and fades ({Albums.History.EdgeWords.Of(edges)}) leave nothing of it");

    private long ToFrames(double seconds) => (long)Math.Round(seconds * sound.SampleRate);
}
