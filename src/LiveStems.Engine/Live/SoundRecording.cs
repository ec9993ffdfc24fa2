using LiveStems.Engine.RealTime;
using LiveStems.Files;
using LiveStems.Files.Writing;

namespace LiveStems.Engine.Live;

/// <summary>Takes sound from the audio thread and writes it to a file, on a thread of its own.</summary>
/// <remarks>
/// The file keeps the time of what was heard: where the disk was too slow, silence stands in the place of what was lost. When
/// the disk fails, the file ends there, complete up to that place, and <see cref="Failure"/> says so at once.
/// </remarks>
public sealed class SoundRecording : IDisposable
{
    private const double RingSeconds = 4;
    private const int FramesAtOnce = 4096;

    // After a loss so large a part of the ring must be free before it goes on: a few long gaps rather than many short ones.
    private const int FreeShare = 4;

    private readonly StemRing ring;
    private readonly int leastFree;

    // Between two gaps lie at least that many frames: no more gaps than this can wait in the ring.
    private readonly RecordingGaps gaps = new(FreeShare + 2);
    private readonly WavWriter writer;
    private readonly Thread thread;
    private readonly float[] takenLeft = new float[FramesAtOnce];
    private readonly float[] takenRight = new float[FramesAtOnce];
    private volatile bool isStopping;
    private volatile bool hasEnded;
    private volatile string? failure;
    private long lostFrames;
    private long handed;
    private long losing;
    private long taken;

    /// <summary>Starts a 32-bit float file.</summary>
    /// <exception cref="AudioFileException">The file cannot be made.</exception>
    public SoundRecording(string path, int sampleRate)
        : this(new WavWriter(path, new WavFormat(sampleRate, 32, IsFloat: true)), path)
    {
    }

    internal SoundRecording(WavWriter writer, string path)
    {
        FilePath = path;
        this.writer = writer;
        int frames = (int)(RingSeconds * SampleRate);
        ring = StemRing.ForAudioThread(frames);
        leastFree = frames / FreeShare;
        thread = new Thread(WriteOn) { IsBackground = true, Name = "recorder" };
        thread.Start();
    }

    /// <summary>Where the file stands when it is complete.</summary>
    public string FilePath { get; }

    /// <summary>How much has been heard since it started, in seconds.</summary>
    public double Seconds => (double)(Volatile.Read(ref handed) + LostFrames) / SampleRate;

    /// <summary>What became of it, in one line: how long it is and where, and what of it was lost; once it is complete.</summary>
    public string Summary
    {
        get
        {
            string lost = LostFrames > 0
                ? FormattableString.Invariant($"; the disk was too slow for {LostFrames} frames ({1000.0 * LostFrames / SampleRate:0} ms), silence stands in their place")
                : string.Empty;
            return failure is null ? FormattableString.Invariant($"recorded {(double)Frames / SampleRate:0.0} s to {FilePath}{lost}") : $"the recording was not written to its end{lost}";
        }
    }

    /// <summary>Rate of the file in hertz.</summary>
    public int SampleRate => writer.Format.SampleRate;

    /// <summary>Frames so far that the disk was too slow for; silence stands in their place.</summary>
    public long LostFrames => Volatile.Read(ref lostFrames);

    /// <summary>Why the file ends before the music, and what of it is kept, as one line; null while all is well.</summary>
    public string? Failure => failure;

    /// <summary>Frames in the file; settled once it is complete.</summary>
    public long Frames => writer.Frames;

    /// <summary>Audio thread: sound to be written. Whatever comes after <see cref="Complete"/> is let go.</summary>
    public void Take(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (!hasEnded)
        {
            Record(left, right);
        }
    }

    /// <summary>
    /// Writes what is left and completes the file; may take as long as the disk does. What goes wrong is told by
    /// <see cref="Failure"/>.
    /// </summary>
    public void Complete()
    {
        End();
        if (failure is not null)
        {
            return;
        }

        try
        {
            writer.Complete();
        }
        catch (AudioFileException fault)
        {
            CutShort(fault);
        }
    }

    /// <summary>Ends the recording; without <see cref="Complete"/> before, or a failure, no file remains.</summary>
    public void Dispose()
    {
        End();
        writer.Dispose();
    }

    private void End()
    {
        isStopping = true;
        thread.Join();
        hasEnded = true;
    }

    private void Record(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (losing > 0)
        {
            if (ring.Free < leastFree || !gaps.TryAdd(handed, losing))
            {
                Lose(left.Length);
                return;
            }

            Volatile.Write(ref losing, 0);
        }

        int done = 0;
        while (done < left.Length)
        {
            int run = ring.GetSpace(left.Length - done, out Span<float> spaceLeft, out Span<float> spaceRight);
            if (run == 0)
            {
                Lose(left.Length - done);
                return;
            }

            left.Slice(done, run).CopyTo(spaceLeft);
            right.Slice(done, run).CopyTo(spaceRight);
            ring.Advance(run);
            Volatile.Write(ref handed, handed + run);
            done += run;
        }
    }

    private void Lose(int frames)
    {
        Volatile.Write(ref losing, losing + frames);
        Volatile.Write(ref lostFrames, lostFrames + frames);
    }

    private void WriteOn()
    {
        try
        {
            // Asked in this order, nothing can come between the last look and the end.
            bool isLast;
            bool hasWritten;
            do
            {
                isLast = isStopping;
                hasWritten = WriteNext(ring.Available);
                if (!hasWritten && !isLast)
                {
                    Thread.Sleep(5);
                }
            }
            while (hasWritten || !isLast);

            WriteSilence(Volatile.Read(ref losing));
        }
        catch (AudioFileException fault)
        {
            CutShort(fault);
        }
    }

    // False when there is nothing to write.
    private bool WriteNext(int available)
    {
        (long Place, long Frames)? gap = gaps.Next;
        if (gap is { } here && here.Place == taken)
        {
            WriteSilence(here.Frames);
            gaps.Pass();
            return true;
        }

        long before = gap is { } next ? next.Place - taken : long.MaxValue;
        int frames = (int)Math.Min(Math.Min(FramesAtOnce, available), before);
        if (frames == 0)
        {
            return false;
        }

        ring.Take(takenLeft.AsSpan(0, frames), takenRight.AsSpan(0, frames));
        writer.Write(takenLeft.AsSpan(0, frames), takenRight.AsSpan(0, frames));
        taken += frames;
        return true;
    }

    private void WriteSilence(long frames)
    {
        Array.Clear(takenLeft);
        Array.Clear(takenRight);
        for (long left = frames; left > 0; left -= FramesAtOnce)
        {
            int some = (int)Math.Min(FramesAtOnce, left);
            writer.Write(takenLeft.AsSpan(0, some), takenRight.AsSpan(0, some));
        }
    }

    private void CutShort(AudioFileException cause)
    {
        hasEnded = true;
        string kept;
        try
        {
            double seconds = (double)writer.CompleteCut() / SampleRate;
            kept = seconds > 0 ? FormattableString.Invariant($"the first {seconds:0.0} s of the recording are kept") : "nothing of the recording is kept";
        }
        catch (AudioFileException)
        {
            kept = "nothing of the recording is kept";
        }

        // Said of a file whose place is not taken, which is not so here.
        failure = $"{cause.Message.Replace(" (nothing was changed)", string.Empty, StringComparison.Ordinal)}; {kept}";
    }
}
