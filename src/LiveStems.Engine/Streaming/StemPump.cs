using LiveStems.Engine.RealTime;
using LiveStems.Files.Reading;

namespace LiveStems.Engine.Streaming;

/// <summary>
/// Keeps the look-ahead of one stem filled from its file: silence before a delayed start, the file, silence for ever
/// after. Runs on a thread that may wait for the disk, never on the audio thread.
/// </summary>
internal sealed class StemPump : IDisposable
{
    private const int LargestRead = 16_384;

    private readonly IAudioReader reader;
    private readonly StemRing ring;
    private readonly long delayFrames;
    private long position;

    /// <param name="reader">The stem at the song's rate.</param>
    /// <param name="ring">The look-ahead to fill.</param>
    /// <param name="delayFrames">Frames the stem starts after the song; negative starts inside the file.</param>
    public StemPump(IAudioReader reader, StemRing ring, long delayFrames)
    {
        this.reader = reader;
        this.ring = ring;
        this.delayFrames = delayFrames;
        Seek(0);
    }

    /// <summary>Frames from the start of the song to the end of the stem.</summary>
    public long EndFrame => Math.Max(0, reader.Info.Frames + delayFrames);

    /// <summary>The look-ahead.</summary>
    public StemRing Ring => ring;

    /// <summary>Starts again at a frame of the song; only while the playing side is not at work.</summary>
    public void Seek(long songFrame)
    {
        ring.Reset();
        position = songFrame;
        reader.Seek(Math.Clamp(songFrame - delayFrames, 0, reader.Info.Frames));
    }

    /// <summary>Reads until at least <paramref name="frames"/> are there to be taken, or the ring is full.</summary>
    public void FillTo(int frames)
    {
        while (ring.Available < frames && FillOnce())
        {
        }
    }

    /// <summary>Reads one stretch; false when the ring is full.</summary>
    public bool FillOnce()
    {
        int frames = ring.GetSpace(LargestRead, out Span<float> left, out Span<float> right);
        if (frames == 0)
        {
            return false;
        }

        long inFile = position - delayFrames;
        if (inFile < 0)
        {
            frames = (int)Math.Min(frames, -inFile);
            left[..frames].Clear();
            right[..frames].Clear();
        }
        else
        {
            int read = reader.Read(left, right);
            left[read..].Clear();
            right[read..].Clear();
        }

        position += frames;
        ring.Advance(frames);
        return true;
    }

    /// <summary>Closes the file.</summary>
    public void Dispose() => reader.Dispose();
}
