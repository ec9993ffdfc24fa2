using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Caching;

/// <summary>Reads a kept render in stretches of any length, with silence behind its end.</summary>
internal sealed class StoredSound(string path, int mostFrames) : IDisposable
{
    private readonly IAudioReader reader = AudioFile.Open(path);

    /// <summary>The left side of the last stretch.</summary>
    public float[] Left { get; } = new float[mostFrames];

    /// <summary>The right side of the last stretch.</summary>
    public float[] Right { get; } = new float[mostFrames];

    /// <summary>Frames per second.</summary>
    public int SampleRate => reader.Info.SampleRate;

    /// <summary>Frames of the file.</summary>
    public long Frames => reader.Info.Frames;

    /// <summary>Reads the next frames.</summary>
    public void Read(int frames)
    {
        int done = 0;
        while (done < frames)
        {
            int read = reader.Read(Left.AsSpan(done, frames - done), Right.AsSpan(done, frames - done));
            if (read == 0)
            {
                Left.AsSpan(done, frames - done).Clear();
                Right.AsSpan(done, frames - done).Clear();
                return;
            }

            done += read;
        }
    }

    /// <summary>Closes the file.</summary>
    public void Dispose() => reader.Dispose();
}
