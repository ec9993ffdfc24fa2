using LiveStems.Engine.RealTime;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.Engine.Streaming;

/// <summary>
/// Keeps the look-ahead of one stem filled from its file: silence before a delayed start, the file, silence for ever
/// after; round a loop with a cross-faded seam. Runs on a thread that may wait for the disk, never on the audio thread.
/// </summary>
internal sealed class StemPump : IDisposable
{
    private const int LargestRead = 16_384;

    private readonly IAudioReader reader;
    private readonly StemFeed feed;
    private readonly long delayFrames;
    private readonly float[] seamLeft;
    private readonly float[] seamRight;
    private StemRing ring;
    private LoopRegion? loop;
    private long position;
    private int seamPosition;

    /// <param name="reader">The stem at the song's rate.</param>
    /// <param name="feed">The look-ahead to fill.</param>
    /// <param name="delayFrames">Frames the stem starts after the song; negative starts inside the file.</param>
    /// <param name="seamFrames">Length of the cross-fade at the seam of a loop.</param>
    public StemPump(IAudioReader reader, StemFeed feed, long delayFrames, int seamFrames)
    {
        this.reader = reader;
        this.feed = feed;
        this.delayFrames = delayFrames;
        seamLeft = GC.AllocateArray<float>(seamFrames, pinned: true);
        seamRight = GC.AllocateArray<float>(seamFrames, pinned: true);
        ring = feed.Ring(0);
        Start(RingStart.First);
    }

    /// <summary>Frames from the start of the song to the end of the stem.</summary>
    public long EndFrame => Math.Max(0, reader.Info.Frames + delayFrames);

    /// <summary>What it fills.</summary>
    public StemFeed Feed => feed;

    /// <summary>Starts to fill a ring, which is not being played.</summary>
    /// <exception cref="AudioFileException">The file cannot be read; <see cref="Resume"/> tries again.</exception>
    public void Start(RingStart start)
    {
        ring = feed.Ring(start.Ring);
        ring.Reset(start.Generation);
        loop = start.Loop;
        seamPosition = seamLeft.Length;
        MoveTo(start.SongFrame);
    }

    /// <summary>Goes on where reading failed.</summary>
    /// <exception cref="AudioFileException">The file still cannot be read.</exception>
    public void Resume() => MoveTo(position);

    /// <summary>Reads until at least <paramref name="frames"/> are there to be taken, or the ring is full.</summary>
    public void FillTo(int frames)
    {
        while (ring.Available < frames && FillOnce())
        {
        }
    }

    /// <summary>
    /// Rendering, in place of a ring: reads the next frames straight to where the plan takes them from. Not to be mixed with
    /// filling.
    /// </summary>
    public void ReadForPlan(int frames) => ReadSongFrames(feed.Input.Left.AsSpan(0, frames), feed.Input.Right.AsSpan(0, frames));

    /// <summary>Reads one stretch; false when the ring is full.</summary>
    /// <exception cref="AudioFileException">The file cannot be read; <see cref="Resume"/> tries again.</exception>
    public bool FillOnce()
    {
        int frames = ring.GetSpace(LargestRead, out Span<float> left, out Span<float> right);
        if (frames == 0)
        {
            return false;
        }

        if (loop is not null)
        {
            if (position >= loop.EndFrame)
            {
                ReadSongFrames(seamLeft, seamRight);
                seamPosition = 0;
                MoveTo(loop.StartFrame);
            }

            frames = (int)Math.Min(frames, loop.EndFrame - position);
        }

        left = left[..frames];
        right = right[..frames];
        ReadSongFrames(left, right);
        BlendSeam(left, right);
        ring.Advance(frames);
        return true;
    }

    /// <summary>Closes the file; the memory of its look-ahead goes to the next song.</summary>
    public void Dispose()
    {
        reader.Dispose();
        feed.GiveBack();
    }

    private void MoveTo(long songFrame)
    {
        position = songFrame;
        reader.Seek(Math.Clamp(songFrame - delayFrames, 0, reader.Info.Frames));
    }

    private void ReadSongFrames(Span<float> left, Span<float> right)
    {
        int silent = (int)Math.Clamp(delayFrames - position, 0, left.Length);
        left[..silent].Clear();
        right[..silent].Clear();
        int read = silent;
        while (read < left.Length)
        {
            int more = reader.Read(left[read..], right[read..]);
            if (more == 0)
            {
                left[read..].Clear();
                right[read..].Clear();
                break;
            }

            read += more;
        }

        position += left.Length;
    }

    private void BlendSeam(Span<float> left, Span<float> right)
    {
        for (int i = 0; i < left.Length && seamPosition < seamLeft.Length; i++, seamPosition++)
        {
            (float arriving, float leaving) = FadeCurve.EqualPower((seamPosition + 0.5f) / seamLeft.Length);
            left[i] = arriving * left[i] + leaving * seamLeft[seamPosition];
            right[i] = arriving * right[i] + leaving * seamRight[seamPosition];
        }
    }
}
