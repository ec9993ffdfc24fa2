using LiveStems.Files.Reading;
using Xunit;

namespace LiveStems.Conformance.Files;

/// <summary>Stereo noise over the whole range of some bits, as plain little-endian bytes and as the floats they stand for.</summary>
internal sealed class KnownSound : IDisposable
{
    public const int Frames = 20_011;

    private readonly string folder = Directory.CreateTempSubdirectory("stems").FullName;

    /// <param name="bits">Bits of a sample: 8 to 32; the value never needs more than 24, so that a float holds it exactly.</param>
    /// <param name="isFloat">The bytes hold floats of 32 or 64 bits, of which the values need 24.</param>
    public KnownSound(int bits, bool isFloat = false)
    {
        Random random = new(bits);
        int steps = Math.Min(bits, 24);
        Left = new float[Frames];
        Right = new float[Frames];
        List<byte> bytes = [];
        for (int frame = 0; frame < Frames; frame++)
        {
            bytes.AddRange(Next(out Left[frame]));
            bytes.AddRange(Next(out Right[frame]));
        }

        Bytes = [.. bytes];
        Raw = File("known.raw");
        System.IO.File.WriteAllBytes(Raw, Bytes);

        byte[] Next(out float value)
        {
            int whole = random.Next(1 << steps) - (1 << (steps - 1));
            value = whole / (float)(1 << (steps - 1));
            return (isFloat, bits) switch
            {
                (true, 32) => BitConverter.GetBytes(value),
                (true, _) => BitConverter.GetBytes((double)value),
                _ => BitConverter.GetBytes(whole << Math.Max(0, bits - 24))[..(bits / 8)],
            };
        }
    }

    public float[] Left { get; }

    public float[] Right { get; }

    /// <summary>The interleaved samples.</summary>
    public byte[] Bytes { get; }

    /// <summary>A file of the bytes and nothing else.</summary>
    public string Raw { get; }

    /// <summary>Path of a file in a folder that goes with the sound.</summary>
    public string File(string name) => Path.Combine(folder, name);

    /// <summary>A file read by us holds this sound, sample for sample.</summary>
    public void AssertReadFrom(string path, string container)
    {
        using IAudioReader reader = AudioFile.Open(path);
        Assert.Equal((container, 2, 48_000, (long)Frames),
            (reader.Info.Container, reader.Info.Channels, reader.Info.SampleRate, reader.Info.Frames));
        float[] left = new float[Frames], right = new float[Frames];
        Assert.Equal(Frames, reader.Read(left, right));
        Assert.Equal(Left, left);
        Assert.Equal(Right, right);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
