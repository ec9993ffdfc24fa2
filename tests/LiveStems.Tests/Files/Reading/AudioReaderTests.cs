using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Tests.Files.Reading;

public class AudioReaderTests
{
    [Fact]
    public void ReadingInAnyPiecesGivesTheSameSamples()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("Guitar.wav");
        Sound sound = Sound.OfWholeNumbers(40_000, bits: 24);
        sound.Write(path, new WavFormat(48_000, 24));
        foreach (int block in (int[])[1, 3, 64, 10_922, 10_923, 40_000])
        {
            Sound read = Sound.Read(path, block);
            Assert.Equal(sound.Left, read.Left);
            Assert.Equal(sound.Right, read.Right);
        }
    }

    [Fact]
    public void SeekingReachesEveryPlaceInAnyOrder()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("Guitar.wav");
        Sound sound = Sound.OfWholeNumbers(40_000, bits: 24);
        sound.Write(path, new WavFormat(48_000, 24));
        using IAudioReader reader = AudioFile.Open(path);
        Random random = new(5);
        float[] left = new float[100], right = new float[100];
        for (int times = 0; times < 500; times++)
        {
            int place = random.Next(39_900);
            reader.Seek(place);
            Assert.Equal(100, reader.Read(left, right));
            Assert.Equal(place + 100, reader.Position);
            Assert.Equal(sound.Left[place..(place + 100)], left);
            Assert.Equal(sound.Right[place..(place + 100)], right);
        }
    }

    [Fact]
    public void TheEndIsReadShortAndThenAsNothing()
    {
        using TemporaryFolder folder = new();
        using IAudioReader reader = AudioFile.Open(folder.File("Bass.wav", WavBytes.File(WavBytes.PlainFmt, WavBytes.TwoFrames)));
        reader.Seek(1);
        float[] left = new float[5], right = new float[5];
        Assert.Equal(1, reader.Read(left, right));
        Assert.Equal(0, reader.Read(left, right));
        reader.Seek(2);
        Assert.Equal(0, reader.Read(left, right));
        Assert.Throws<ArgumentOutOfRangeException>(() => reader.Seek(3));
        Assert.Throws<ArgumentOutOfRangeException>(() => reader.Seek(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => reader.Read(new float[2], new float[3]));
    }

    [Fact]
    public void ReadingAndSeekingAllocateNothing()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("Guitar.wav");
        Sound.OfWholeNumbers(40_000, bits: 24).Write(path, new WavFormat(48_000, 24));
        using IAudioReader reader = AudioFile.Open(path);
        float[] left = new float[512], right = new float[512];
        ReadAll();
        long before = GC.GetAllocatedBytesForCurrentThread();
        ReadAll();
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void ReadAll()
        {
            reader.Seek(0);
            while (reader.Read(left, right) > 0)
            {
            }
        }
    }

    [Fact]
    public void SpacesAndLettersOfAnyScriptAreTakenInAPath()
    {
        using TemporaryFolder folder = new();
        foreach (string name in (string[])["Møre & Quay, take 2.wav", "声 ギター.wav", "Бас №1.wav", "🎻 strings.wav", "no extension", "e\u0301.aif"])
        {
            string path = folder.File(name, WavBytes.File(WavBytes.PlainFmt, WavBytes.TwoFrames));
            using IAudioReader reader = AudioFile.Open(path);
            Assert.Equal(path, reader.Info.Path);
            Assert.Equal("WAV", reader.Info.Container);
        }
    }
}
