using LiveStems.Files.Writing;
using NAudio.Wave;
using Xunit;

namespace LiveStems.Tests.Files;

/// <summary>NAudio.Core 3 reads what we write, and we what it writes: a third opinion beside sox and ffmpeg, always there.</summary>
public sealed class NAudioPeerTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData(16, false)]
    [InlineData(24, false)]
    [InlineData(32, true)]
    public void NAudioReadsWhatWeWrite(int bits, bool isFloat)
    {
        string path = folder.File("Ours.wav");
        Sound sound = Sound.OfWholeNumbers(5_001, bits: Math.Min(bits, 24));
        sound.Write(path, new WavFormat(48_000, bits, isFloat));

        using WaveFileReader reader = new(path);
        Assert.Equal((2, 48_000, bits), (reader.WaveFormat.Channels, reader.WaveFormat.SampleRate, reader.WaveFormat.BitsPerSample));
        byte[] bytes = new byte[reader.Length];
        reader.ReadExactly(bytes);
        Assert.Equal(Encoded(sound, bits, isFloat), bytes);
    }

    [Theory]
    [InlineData(16, false)]
    [InlineData(24, false)]
    [InlineData(32, true)]
    public void WeReadWhatNAudioWrites(int bits, bool isFloat)
    {
        string path = folder.File("Theirs.wav");
        Sound sound = Sound.OfWholeNumbers(5_001, bits: Math.Min(bits, 24));
        WaveFormat format = isFloat ? WaveFormat.CreateIeeeFloatWaveFormat(48_000, 2) : new WaveFormat(48_000, bits, 2);
        using (WaveFileWriter writer = new(path, format))
        {
            writer.Write(Encoded(sound, bits, isFloat));
        }

        Sound read = Sound.Read(path);
        Assert.Equal(sound.Left, read.Left);
        Assert.Equal(sound.Right, read.Right);
    }

    private static byte[] Encoded(Sound sound, int bits, bool isFloat)
    {
        byte[] bytes = new byte[sound.Left.Length * bits / 4];
        new SampleEncoder(new WavFormat(48_000, bits, isFloat)).Encode(sound.Left, sound.Right, bytes);
        return bytes;
    }
}
