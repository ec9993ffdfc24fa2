using LiveStems.Engine.Devices;
using LiveStems.Engine.RealTime;
using LiveStems.Files.Writing;

namespace LiveStems.Engine.Live;

/// <summary>Passes sound on to a device and writes the same sound to a file, on a thread of its own.</summary>
public sealed class RecordingTap : IAudioRenderer, IDisposable
{
    private const double RingSeconds = 4;
    private const int FramesAtOnce = 4096;

    private readonly IAudioRenderer source;
    private readonly StemRing ring;
    private readonly WavWriter writer;
    private readonly Thread thread;
    private readonly float[] takenLeft = new float[FramesAtOnce];
    private readonly float[] takenRight = new float[FramesAtOnce];
    private volatile bool isStopping;
    private long lostFrames;
    private Exception? failure;

    /// <summary>Starts a 32-bit float file.</summary>
    /// <exception cref="Files.AudioFileException">The file cannot be made.</exception>
    public RecordingTap(IAudioRenderer source, string path, int sampleRate)
    {
        this.source = source;
        ring = StemRing.ForAudioThread((int)(RingSeconds * sampleRate));
        writer = new WavWriter(path, new WavFormat(sampleRate, 32, IsFloat: true));
        thread = new Thread(WriteOn) { IsBackground = true, Name = "recorder" };
        thread.Start();
    }

    /// <summary>Frames that the disk was too slow for.</summary>
    public long LostFrames => Volatile.Read(ref lostFrames);

    /// <inheritdoc/>
    public void Render(Span<float> left, Span<float> right)
    {
        source.Render(left, right);
        int done = 0;
        while (done < left.Length)
        {
            int run = ring.GetSpace(left.Length - done, out Span<float> spaceLeft, out Span<float> spaceRight);
            if (run == 0)
            {
                Volatile.Write(ref lostFrames, lostFrames + left.Length - done);
                return;
            }

            left.Slice(done, run).CopyTo(spaceLeft);
            right.Slice(done, run).CopyTo(spaceRight);
            ring.Advance(run);
            done += run;
        }
    }

    /// <summary>Writes what is left and completes the file; call after the device has stopped.</summary>
    /// <exception cref="Files.AudioFileException">The disk was full or gone.</exception>
    public void Complete()
    {
        isStopping = true;
        thread.Join();
        if (failure is not null)
        {
            throw new Files.AudioFileException(failure.Message, failure);
        }

        writer.Complete();
    }

    /// <summary>Ends the recording; without <see cref="Complete"/> no file remains.</summary>
    public void Dispose()
    {
        isStopping = true;
        thread.Join();
        writer.Dispose();
    }

    private void WriteOn()
    {
        try
        {
            while (!isStopping || ring.Available > 0)
            {
                int frames = Math.Min(FramesAtOnce, ring.Available);
                if (frames == 0)
                {
                    Thread.Sleep(5);
                    continue;
                }

                ring.Take(takenLeft.AsSpan(0, frames), takenRight.AsSpan(0, frames));
                writer.Write(takenLeft.AsSpan(0, frames), takenRight.AsSpan(0, frames));
            }
        }
        catch (Files.AudioFileException exception)
        {
            failure = exception;
        }
    }
}
