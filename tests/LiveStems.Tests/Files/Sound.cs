using LiveStems.Files.Reading;
using LiveStems.Files.Writing;

namespace LiveStems.Tests.Files;

/// <summary>Planar sound in memory, for tests of files.</summary>
internal sealed record Sound(float[] Left, float[] Right)
{
    /// <summary>Reads a whole file, a block at a time.</summary>
    public static Sound Read(string path, int block = 1000)
    {
        using IAudioReader reader = AudioFile.Open(path);
        return Read(reader, block);
    }

    /// <summary>Reads what is left in a reader, a block at a time.</summary>
    public static Sound Read(IAudioReader reader, int block = 1000)
    {
        int frames = (int)(reader.Info.Frames - reader.Position);
        Sound sound = new(new float[frames], new float[frames]);
        int done = 0;
        while (true)
        {
            int wanted = Math.Min(block, frames - done);
            int read = reader.Read(sound.Left.AsSpan(done, wanted), sound.Right.AsSpan(done, wanted));
            if (read == 0)
            {
                return sound;
            }

            done += read;
        }
    }

    /// <summary>Values that a whole number of so many bits can hold, from end to end of the range, in a fixed order.</summary>
    public static Sound OfWholeNumbers(int frames, int bits, int seed = 1)
    {
        Random random = new(seed);
        double scale = Math.Pow(2, bits - 1);
        float Next() => (float)(Math.Floor(((random.NextDouble() * 2) - 1) * scale) / scale);
        Sound sound = new(new float[frames], new float[frames]);
        for (int frame = 0; frame < frames; frame++)
        {
            sound.Left[frame] = Next();
            sound.Right[frame] = Next();
        }

        sound.Left[0] = -1;
        sound.Right[0] = (float)((scale - 1) / scale);
        return sound;
    }

    /// <summary>Writes a file, a block at a time.</summary>
    public void Write(string path, WavFormat format, int block = 777)
    {
        using WavWriter writer = new(path, format);
        Write(writer, block);
        writer.Complete();
    }

    /// <summary>Writes into a writer, a block at a time.</summary>
    public void Write(WavWriter writer, int block = 777)
    {
        for (int start = 0; start < Left.Length; start += block)
        {
            int frames = Math.Min(block, Left.Length - start);
            if (writer.Format.Channels == 1)
            {
                writer.Write(Left.AsSpan(start, frames));
            }
            else
            {
                writer.Write(Left.AsSpan(start, frames), Right.AsSpan(start, frames));
            }
        }
    }
}
