using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Tests.Files.Writing;

public class WavRoundTripTests
{
    [Theory]
    [InlineData(16, false)]
    [InlineData(24, false)]
    [InlineData(32, false)]
    [InlineData(32, true)]
    public void StereoComesBackAsItWasWritten(int bits, bool isFloat)
    {
        using TemporaryFolder folder = new();
        string path = folder.File("Bass.wav");

        // A float has 24 bits of significand, so 24 bits is the finest that every form here keeps exactly.
        Sound sound = Sound.OfWholeNumbers(frames: 50_003, Math.Min(bits, 24));
        sound.Write(path, new WavFormat(48_000, bits, isFloat));

        using IAudioReader reader = AudioFile.Open(path);
        Assert.Equal(
            new AudioFileInfo(path, "WAV", isFloat ? SampleEncoding.Float : SampleEncoding.Integer, bits, 2, 48_000, 50_003),
            reader.Info);
        Sound read = Sound.Read(reader);
        Assert.Equal(sound.Left, read.Left);
        Assert.Equal(sound.Right, read.Right);
    }

    [Theory]
    [InlineData(16, false)]
    [InlineData(24, false)]
    [InlineData(32, false)]
    [InlineData(32, true)]
    public void MonoComesBackOnBothSides(int bits, bool isFloat)
    {
        using TemporaryFolder folder = new();
        string path = folder.File("Voice.wav");
        Sound sound = Sound.OfWholeNumbers(frames: 50_003, Math.Min(bits, 24));
        sound.Write(path, new WavFormat(96_000, bits, isFloat, Channels: 1));

        Sound read = Sound.Read(path);
        Assert.Equal(sound.Left, read.Left);
        Assert.Equal(sound.Left, read.Right);
    }
}
