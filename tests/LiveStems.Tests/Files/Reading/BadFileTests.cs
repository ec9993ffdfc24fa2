using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Tests.Files.Reading;

/// <summary>What is wrong with a file, told in one line that names the file and how to mend it.</summary>
public sealed class BadFileTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public static TheoryData<ushort, string> Codings => new()
    {
        { 2, "Microsoft ADPCM" },
        { 6, "A-law samples" },
        { 7, "µ-law samples" },
        { 0x11, "IMA ADPCM" },
        { 0x31, "GSM 6.10 speech" },
        { 0x55, "MP3 sound" },
        { 0x1234, "samples of coding 0x1234" },
    };

    public void Dispose() => folder.Dispose();

    [Fact]
    public void AMissingFileIsNamed() =>
        AssertFault("is not there; check the name, or whether the disk is connected", folder.File("Bass.wav"));

    [Fact]
    public void AMissingFolderIsNamed() =>
        AssertFault("is not there; check the name, or whether the disk is connected", Path.Combine(folder.File("no"), "Bass.wav"));

    [Fact]
    public void AFolderIsNoFile()
    {
        string path = folder.File("Take 2.wav");
        Directory.CreateDirectory(path);
        AssertFault("is a folder; name a sound file in it", path);
    }

    [Fact]
    public void APathThatCannotBeIsNamed() => AssertFault("is not a name that a file can have; check the name", "\0");

    [Fact]
    public void AnUnreadableFileAsksForTheRight() =>
        Assert.Equal(
            "Bass.wav: may not be read; give yourself the right to read it",
            FileFault.OfReading("Bass.wav", new UnauthorizedAccessException()).Message);

    [Fact]
    public void ALineBreakInANameStaysOutOfTheLine()
    {
        AudioFileException fault = Assert.Throws<AudioFileException>(() => AudioFile.Open(folder.File("Bass\nline.wav")));
        Assert.DoesNotContain('\n', fault.Message);
        Assert.Contains("Bass\uFFFDline.wav: is not there", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AnEmptyFileIsTold() => AssertFault("is empty (0 bytes); copy or export it again", []);

    [Theory]
    [InlineData("Bass, bars 1 to 8: too loud.\r\nSee the notes.")]
    [InlineData("Grüße vom Kai: der Baß ist zu laut, ein wenig nur, aber hörbar. Größer.")]
    [InlineData("Hi")]
    public void TextIsNoSound(string text) =>
        AssertFault("is a text file, not sound; name the sound file itself", System.Text.Encoding.UTF8.GetBytes(text));

    [Fact]
    public void ZerosAreABrokenCopy() =>
        AssertFault("starts with nothing but zeros, its copying was broken off; copy it again", new byte[100_000]);

    [Fact]
    public void OtherKindsAreNamed()
    {
        AssertFault("is an MP4 or M4A file, which is not taken; convert it to a WAV file first", [0, 0, 0, 32, .. "ftypM4A "u8]);
        AssertFault("is an AVI film, which is not taken; convert it to a WAV file first", [.. "RIFF"u8, 0, 1, 0, 0, .. "AVI LIST"u8]);
        AssertFault("is a ZIP archive; unpack it and name a sound file in it", [.. "PK"u8, 3, 4, 20, 0, 0, 0]);
        AssertFault("is not sound of a kind that is known; export it as WAV", [1, 2, 3, 4, 200, 201, 202]);
    }

    [Theory]
    [MemberData(nameof(Codings))]
    public void CodedSamplesAreRefusedByName(ushort tag, string name)
    {
        string fault = $"holds {name}; decode it to a WAV file of 24-bit samples first";
        AssertFault(fault, WavBytes.File(WavBytes.Fmt(tag, 2, 48_000, 4), WavBytes.TwoFrames));
        AssertFault(fault, WavBytes.File(WavBytes.Extensible(tag, 2, 48_000, 8, 8, 3), WavBytes.TwoFrames));
    }

    [Fact]
    public void CodedAifcIsRefusedByName() => AssertFault(
        "holds samples of the coding 'ulaw'; decode it to a WAV file of 24-bit samples first",
        AiffBytes.File("AIFC", AiffBytes.Comm(2, 2, 16, coding: "ulaw"), AiffBytes.Sound([1, 2, 3, 4])));

    [Fact]
    public void SevenChannelsAreRefused()
    {
        const string Fault = "has 7 channels; a stem has 1 or 2: split it or mix it down";
        AssertFault(Fault, WavBytes.File(WavBytes.Fmt(1, 7, 48_000, 16), WavBytes.Chunk("data", new byte[140])));
        AssertFault(Fault, AiffBytes.File("AIFF", AiffBytes.Comm(7, 10, 16), AiffBytes.Sound(new byte[140])));
    }

    [Theory]
    [InlineData(0u)]
    [InlineData(7_999u)]
    [InlineData(384_001u)]
    [InlineData(uint.MaxValue)]
    public void ASampleRateOutOfRangeIsRefused(uint rate) => AssertFault(
        $"has a sample rate of {(double)rate:G6} Hz; 8 000 to 384 000 Hz are taken: export it again, or resample it",
        WavBytes.File(WavBytes.Fmt(1, 2, rate, 16), WavBytes.TwoFrames));

    [Fact]
    public void ASampleRateThatIsNotWholeIsRefused()
    {
        // 22 254.5454… Hz: 0x400D (2^14), then 22 254.5454 / 2^14 · 2^63.
        byte[] rate = [0x40, 0x0D, 0xAD, 0xDD, 0x17, 0x45, 0xD1, 0x74, 0x5D, 0x17];
        AssertFault(
            "has a sample rate of 22254.545 Hz; only whole numbers are taken: resample it",
            AiffBytes.File("AIFF", AiffBytes.Comm(2, 1, 16, rate), AiffBytes.Sound(new byte[4])));
    }

    [Fact]
    public void NoFramesAreNoSound()
    {
        const string Fault = "holds no sound (0 frames); export it again";
        AssertFault(Fault, WavBytes.File(WavBytes.PlainFmt, WavBytes.Chunk("data", [])));
        AssertFault(Fault, WavBytes.File(WavBytes.PlainFmt, WavBytes.Chunk("data", []), WavBytes.Chunk("LIST", new byte[80])));
        AssertFault(Fault, WavBytes.File(WavBytes.PlainFmt, WavBytes.Chunk("data", new byte[3])));
        AssertFault(Fault, WavBytes.File(WavBytes.PlainFmt, WavBytes.Chunk("data", [], uint.MaxValue)));
        AssertFault(Fault, AiffBytes.File("AIFF", AiffBytes.Comm(2, 0, 16), AiffBytes.Sound([])));
    }

    [Fact]
    public void MissingChunksAreTold()
    {
        AssertFault("has a damaged header (no 'fmt ' chunk); export it again", WavBytes.File(WavBytes.TwoFrames));
        AssertFault("holds no sound (no 'data' chunk, or it breaks off before); copy or export it again", WavBytes.File(WavBytes.PlainFmt));
        AssertFault("has a damaged header (no 'COMM' chunk); export it again", AiffBytes.File("AIFF", AiffBytes.Sound([1, 2])));
        AssertFault(
            "holds no sound (no 'SSND' chunk, or it breaks off before); copy or export it again",
            AiffBytes.File("AIFF", AiffBytes.Comm(2, 1, 16)));
    }

    [Fact]
    public void AHeaderThatContradictsItselfIsTold() => AssertFault(
        "has a header that contradicts itself (2 × 24 bits in frames of 4 bytes); export it again",
        WavBytes.File(WavBytes.Fmt(1, 2, 48_000, 24, frameBytes: 4), WavBytes.TwoFrames));

    [Fact]
    public void ATruncatedFileTellsWhereItBreaksOff()
    {
        string path = folder.File("Bass.wav");
        Sound.OfWholeNumbers(96_000, bits: 24).Write(path, new WavFormat(48_000, 24));
        byte[] whole = File.ReadAllBytes(path);
        AssertFault("breaks off after 1.500 s of 2.000 s; copy or export it again", whole[..^(24_000 * 6)]);
        byte[] aiff = AiffBytes.File("AIFF", AiffBytes.Comm(1, 96_000, 16), AiffBytes.Sound(new byte[192_000]));
        AssertFault("breaks off after 1.500 s of 2.000 s; copy or export it again", aiff[..^48_000]);
    }

    [Fact]
    public void AClaimOfAGigabyteAllocatesNothingLikeIt()
    {
        byte[] data = WavBytes.Chunk("data", new byte[40], 1 << 30);
        byte[] file = WavBytes.File(WavBytes.PlainFmt, data);
        long before = GC.GetAllocatedBytesForCurrentThread();
        AssertFault("breaks off after 0.000208 s of 5592.405333 s; copy or export it again", file);
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 200_000);
    }

    [Fact]
    public void ThousandsOfEmptyChunksAreGivenUp() => AssertFault(
        "has a damaged header (thousands of chunks and no sound among them); export it again",
        [.. WavBytes.File(WavBytes.PlainFmt), .. new byte[100_000]]);

    [Theory]
    [InlineData(float.NaN, "NaN")]
    [InlineData(float.PositiveInfinity, "infinity")]
    [InlineData(float.NegativeInfinity, "infinity")]
    public void ASampleThatIsNoNumberIsToldWithItsMomentAndChannel(float bad, string name)
    {
        float[] samples = new float[2 * 48_000];
        samples[(2 * 12_000) + 1] = bad;
        string stereo = folder.File(
            "Voice.wav", WavBytes.File(WavBytes.Fmt(3, 2, 48_000, 32), WavBytes.Chunk("data", WavBytes.Floats(samples))));
        string mono = folder.File(
            "Mono.wav", WavBytes.File(WavBytes.Fmt(3, 1, 96_000, 32), WavBytes.Chunk("data", WavBytes.Floats(samples))));
        foreach (int block in (int[])[64, 1000, 48_000])
        {
            AssertReadingFault($"holds {name} at 0.250 s in the right channel, which is no sound; export it again, or cut that moment out", stereo, block);
            AssertReadingFault($"holds {name} at 0.25001 s in its only channel, which is no sound; export it again, or cut that moment out", mono, block);
        }
    }

    [Fact]
    public void AFileThatShrinksWhileItIsReadTellsWhereItBreaksOff()
    {
        string path = folder.File("Bass.wav");
        Sound.OfWholeNumbers(96_000, bits: 24).Write(path, new WavFormat(48_000, 24));
        using IAudioReader reader = AudioFile.Open(path);
        using (FileStream file = new(path, FileMode.Open, FileAccess.Write, FileShare.ReadWrite | FileShare.Delete))
        {
            file.SetLength(file.Length - (24_000 * 6));
        }

        AudioFileException fault = Assert.Throws<AudioFileException>(() => Sound.Read(reader));
        Assert.Equal($"{path}: breaks off after 1.500 s of 2.000 s; copy or export it again", fault.Message);
    }

    private static void AssertReadingFault(string expected, string path, int block)
    {
        AudioFileException fault = Assert.Throws<AudioFileException>(() => Sound.Read(path, block));
        Assert.Equal($"{path}: {expected}", fault.Message);
    }

    private static void AssertFault(string expected, string path)
    {
        AudioFileException fault = Assert.Throws<AudioFileException>(() => AudioFile.Open(path));
        Assert.StartsWith($"{path.Replace('\0', '\uFFFD')}: {expected}", fault.Message, StringComparison.Ordinal);
    }

    private void AssertFault(string expected, byte[] file)
    {
        string path = folder.File("Bass.wav", file);
        AudioFileException fault = Assert.Throws<AudioFileException>(() => AudioFile.Open(path));
        Assert.Equal($"{path}: {expected}", fault.Message);
    }
}
