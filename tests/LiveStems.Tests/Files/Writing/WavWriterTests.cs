using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Tests.Files.Writing;

public sealed class WavWriterTests : IDisposable
{
    private static readonly WavFormat Plain = new(48_000, 16);

    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void TheHeaderIsLaidOutAsTheReferencesSay()
    {
        byte[] whole = Written(new WavFormat(48_000, 24), new Sound([0.5f], [-0.5f]));
        byte[] expected = WavBytes.File(
            WavBytes.Chunk("JUNK", new byte[28]),
            WavBytes.Extensible(1, 2, 48_000, 24, 24, mask: 3),
            WavBytes.Chunk("data", [0, 0, 0x40, 0, 0, 0xC0]));
        Assert.Equal(expected, whole);

        byte[] floats = Written(new WavFormat(44_100, 32, IsFloat: true, Channels: 1), new Sound([0.5f], []));
        byte[] fmt = WavBytes.Fmt(3, 1, 44_100, 32);
        expected = WavBytes.File(
            WavBytes.Chunk("JUNK", new byte[28]),
            [.. fmt[..4], 18, 0, 0, 0, .. fmt[8..], 0, 0],
            WavBytes.Chunk("fact", [1, 0, 0, 0]),
            WavBytes.Chunk("data", WavBytes.Floats(0.5f)));
        Assert.Equal(expected, floats);
    }

    [Fact]
    public void AnOddNumberOfBytesIsPadded()
    {
        byte[] whole = Written(new WavFormat(48_000, 24, Channels: 1), new Sound([0.5f], []));
        byte[] expected = WavBytes.File(
            WavBytes.Chunk("JUNK", new byte[28]),
            WavBytes.Extensible(1, 1, 48_000, 24, 24, mask: 4),
            WavBytes.Chunk("data", [0, 0, 0x40]));
        Assert.Equal(expected, whole);
    }

    [Fact]
    public void PiecesOfAnyLengthGiveTheSameBytes()
    {
        Sound sound = Sound.OfWholeNumbers(30_001, bits: 24);
        foreach (WavFormat format in (WavFormat[])[new(48_000, 16), new(48_000, 24), new(48_000, 24, Channels: 1), new(48_000, 32, true)])
        {
            byte[] expected = Written(format, sound, block: 30_001);
            foreach (int block in (int[])[1, 5, 512, 8192])
            {
                Assert.Equal(expected, Written(format, sound, block));
            }
        }
    }

    [Fact]
    public void PastTheLimitOf32BitsTheFileIsRf64()
    {
        string path = folder.File("Quay.wav");
        Sound sound = Sound.OfWholeNumbers(1000, bits: 16);
        using (WavWriter writer = new(path, Plain, longestRiff: 4000, target => new TemporaryFile(target)))
        {
            sound.Write(writer);
            writer.Complete();
        }

        ulong riffBytes = (ulong)new FileInfo(path).Length - 8;
        byte[] header = WavBytes.Form(
            "RF64", uint.MaxValue, WavBytes.Ds64(riffBytes, 4000, 1000), WavBytes.PlainFmt, WavBytes.Chunk("data", [], uint.MaxValue));
        Assert.Equal(header, File.ReadAllBytes(path)[..header.Length]);
        using IAudioReader reader = AudioFile.Open(path);
        Assert.Equal("RF64", reader.Info.Container);
        Assert.Equal(sound.Left, Sound.Read(reader).Left);
    }

    [Theory]
    [InlineData(1001, "WAV")]
    [InlineData(1002, "RF64")]
    public void TheLimitIsTheSizeOfAllAfterTheFirstEightBytes(int frames, string container)
    {
        // Header of 16-bit stereo: 12 + 36 (JUNK) + 24 (fmt) + 8 (data) = 80 bytes, so RIFF says 72 + 4 bytes a frame.
        string path = folder.File("Quay.wav");
        using (WavWriter writer = new(path, Plain, longestRiff: 72 + 4004, target => new TemporaryFile(target)))
        {
            writer.Write(new float[frames], new float[frames]);
            writer.Complete();
        }

        using IAudioReader reader = AudioFile.Open(path);
        Assert.Equal((container, (long)frames), (reader.Info.Container, reader.Info.Frames));
    }

    [Fact]
    public void NothingIsSeenUnderTheNameUntilTheFileIsComplete()
    {
        string path = folder.File("Master.wav");
        File.WriteAllText(path, "the master of yesterday");
        using (WavWriter writer = new(path, Plain))
        {
            writer.Write(new float[100_000], new float[100_000]);
            Assert.Equal("the master of yesterday", File.ReadAllText(path));
            Assert.Equal(2, folder.Names().Length);
            writer.Complete();
        }

        Assert.Equal(["Master.wav"], folder.Names());
        Assert.Equal(100_000, Sound.Read(path).Left.Length);
    }

    [Fact]
    public void WithoutCompletionNothingRemains()
    {
        using (WavWriter writer = new(folder.File("Master.wav"), Plain))
        {
            writer.Write(new float[100_000], new float[100_000]);
        }

        Assert.Empty(folder.Names());
    }

    [Fact]
    public void AFullDiskIsOneLineAndLeavesTheTargetAsItWas()
    {
        string path = folder.File("Master.wav");
        File.WriteAllText(path, "the master of yesterday");
        using (WavWriter writer = new(path, Plain, uint.MaxValue, target => new FullDisk(target)))
        {
            AudioFileException fault = Assert.Throws<AudioFileException>(
                () => writer.Write(new float[100_000], new float[100_000]));
            Assert.Equal(
                $"{path}: cannot be written, the disk is full; make room, or write to another disk (nothing was changed)",
                fault.Message);
            Assert.Throws<InvalidOperationException>(writer.Complete);
        }

        Assert.Equal(["Master.wav"], folder.Names());
        Assert.Equal("the master of yesterday", File.ReadAllText(path));
    }

    [Fact]
    public void ADiskThatFillsAtTheVeryEndIsTheSame()
    {
        string path = folder.File("Master.wav");
        using (WavWriter writer = new(path, Plain, uint.MaxValue, target => new FullDisk(target)))
        {
            writer.Write(new float[10], new float[10]);
            AudioFileException fault = Assert.Throws<AudioFileException>(writer.Complete);
            Assert.Contains("the disk is full", fault.Message, StringComparison.Ordinal);
        }

        Assert.Empty(folder.Names());
    }

    [Fact]
    public void AMissingFolderAndAFolderInPlaceOfAFileAreTold()
    {
        string missing = Path.Combine(folder.File("no"), "Master.wav");
        Assert.Equal(
            $"{missing}: cannot be written, its folder is not there; make the folder first",
            Assert.Throws<AudioFileException>(() => new WavWriter(missing, Plain)).Message);
        string inTheWay = folder.File("Master.wav");
        Directory.CreateDirectory(inTheWay);
        Assert.Equal(
            $"{inTheWay}: is a folder; name a file in it",
            Assert.Throws<AudioFileException>(() => new WavWriter(inTheWay, Plain)).Message);
    }

    [Fact]
    public void ADeviceIsNotReplaced()
    {
        // Windows keeps devices apart from files.
        if (!OperatingSystem.IsWindows())
        {
            AudioFileException fault = Assert.Throws<AudioFileException>(() => new WavWriter("/dev/null", Plain));
            Assert.Equal("/dev/null: is a device; name a file", fault.Message);
        }
    }

    [Fact]
    public void AFileTooLargeForItsFileSystemIsOneLine() => Assert.Equal(
        "Master.wav: cannot be written, it is too large for this file system; write to another disk (nothing was changed)",
        WritingFault.Of("Master.wav", new IOException("File too large", WritingFault.FileTooLarge)).Message);

    [Fact]
    public void ASampleThatIsNoNumberIsNotWritten()
    {
        string path = folder.File("Master.wav");
        using (WavWriter writer = new(path, Plain))
        {
            writer.Write(new float[24_000], new float[24_000]);
            float[] right = new float[48_000];
            right[36_000] = float.NaN;
            AudioFileException fault = Assert.Throws<AudioFileException>(() => writer.Write(new float[48_000], right));
            Assert.Equal(
                $"{path}: was not written, the sound has NaN at 1.250 s in the right channel; find what makes it there and mend that",
                fault.Message);
        }

        Assert.Empty(folder.Names());
    }

    [Fact]
    public void WritingAllocatesNothing()
    {
        using WavWriter writer = new(folder.File("Master.wav"), new WavFormat(48_000, 24));
        float[] left = new float[4096], right = new float[4096];
        WriteSome();
        long before = GC.GetAllocatedBytesForCurrentThread();
        WriteSome();
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void WriteSome()
        {
            for (int times = 0; times < 50; times++)
            {
                writer.Write(left, right);
            }
        }
    }

    [Theory]
    [InlineData(7_999, 16, false, 2)]
    [InlineData(384_001, 16, false, 2)]
    [InlineData(48_000, 20, false, 2)]
    [InlineData(48_000, 24, true, 2)]
    [InlineData(48_000, 16, false, 0)]
    [InlineData(48_000, 16, false, 3)]
    public void FormsThatAreNotWrittenAreRefused(int rate, int bits, bool isFloat, int channels)
    {
        Assert.Throws<ArgumentException>(() => new WavWriter(folder.File("Master.wav"), new WavFormat(rate, bits, isFloat, channels)));
        Assert.Empty(folder.Names());
    }

    [Fact]
    public void ClippedSamplesAreCounted()
    {
        using WavWriter writer = new(folder.File("Master.wav"), Plain);
        writer.Write([0, 0.5f, 1.5f, 0, -1], [0, 1, 0, -2, 0.9999f]);
        writer.Write([2f], [0f]);
        Assert.Equal(4, writer.ClippedSamples);
        Assert.Equal(6, writer.Frames);
    }

    private byte[] Written(WavFormat format, Sound sound, int block = 777)
    {
        string path = folder.File("Written.wav");
        sound.Write(path, format, block);
        return File.ReadAllBytes(path);
    }

    /// <summary>A disk on which a file can be made, but nothing put in.</summary>
    private sealed class FullDisk(string target) : TemporaryFile(target)
    {
        internal override void Write(ReadOnlySpan<byte> bytes, long offset)
        {
            // ENOSPC, as .NET hands it on.
            throw new IOException("No space left on device", 28);
        }
    }
}
