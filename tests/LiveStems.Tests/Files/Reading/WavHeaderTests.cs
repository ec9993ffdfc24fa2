using LiveStems.Files;
using LiveStems.Files.Reading;
using Xunit;

namespace LiveStems.Tests.Files.Reading;

/// <summary>Layouts of REFERENCES section 11.1 and 11.2, read there from sox and ffmpeg dumps.</summary>
public sealed class WavHeaderTests : IDisposable
{
    private static readonly byte[] Data = WavBytes.TwoFrames;
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void APlainHeaderIsTold()
    {
        using IAudioReader reader = Open(WavBytes.File(WavBytes.PlainFmt, Data));
        Assert.Equal(("WAV", SampleEncoding.Integer, 16, 2, 48_000, 2L), Facts(reader));
        AssertTwoFrames(reader);
    }

    [Fact]
    public void UnknownChunksAndTheirPadBytesArePassedOver()
    {
        byte[] odd = WavBytes.Chunk("bext", new byte[603]);
        AssertTwoFrames(WavBytes.File(odd, WavBytes.PlainFmt, WavBytes.Chunk("LIST", new byte[3]), Data, odd));
    }

    [Fact]
    public void TheFormatMayFollowTheSound() => AssertTwoFrames(WavBytes.File(Data, WavBytes.Chunk("fact", new byte[4]), WavBytes.PlainFmt));

    [Fact]
    public void AMissingPadByteAtTheEndIsNoFault()
    {
        byte[] file = WavBytes.File(WavBytes.Fmt(1, channels: 1, rate: 48_000, bits: 8), WavBytes.Chunk("data", [128, 192, 64]));
        using IAudioReader reader = Open(file[..^1]);
        Assert.Equal([0, 0.5f, -0.5f], Sound.Read(reader).Left);
    }

    [Theory]
    [InlineData(0u, 0u)]
    [InlineData(uint.MaxValue, uint.MaxValue)]
    [InlineData(36u, 0u)]
    [InlineData(0x7FFFF024u, 0x7FFFF000u)]
    public void ASizeThatWasNeverFilledInMeansTheRestOfTheFile(uint riffSize, uint dataSize)
    {
        byte[] samples = WavBytes.Shorts(8192, -8192, 16384, -16384);
        AssertTwoFrames(WavBytes.Form("RIFF", riffSize, WavBytes.PlainFmt, WavBytes.Chunk("data", samples, dataSize)));
    }

    [Fact]
    public void APartOfAFrameAtTheEndIsLeftOut()
    {
        byte[] samples = [.. WavBytes.Shorts(8192, -8192, 16384, -16384), 1, 2];
        AssertTwoFrames(WavBytes.File(WavBytes.PlainFmt, WavBytes.Chunk("data", samples)));
        AssertTwoFrames(WavBytes.File(WavBytes.PlainFmt, WavBytes.Chunk("data", samples, uint.MaxValue)));
    }

    [Theory]
    [InlineData(24, 24, 0x800000, -1.0)]
    [InlineData(24, 20, 0x7FFFF0, 0x7FFFF / 524288.0)]
    [InlineData(32, 24, 0x40000000, 0.5)]
    public void ExtensibleTellsTheBitsThatCarrySoundApartFromTheContainer(int bits, int validBits, int sample, double expected)
    {
        byte[] samples = BitConverter.GetBytes(sample)[..(bits / 8)];
        byte[] fmt = WavBytes.Extensible(1, channels: 1, 96_000, (ushort)bits, (ushort)validBits, mask: 4);
        using IAudioReader reader = Open(WavBytes.File(fmt, WavBytes.Chunk("data", samples)));
        Assert.Equal(("WAV", SampleEncoding.Integer, validBits, 1, 96_000, 1L), Facts(reader));
        Assert.Equal((float)expected, Sound.Read(reader).Left[0]);
    }

    [Fact]
    public void TwelveBitsAreLeftJustifiedIn16()
    {
        byte[] fmt = WavBytes.Fmt(1, channels: 1, rate: 44_100, bits: 12, frameBytes: 2);
        using IAudioReader reader = Open(WavBytes.File(fmt, WavBytes.Chunk("data", WavBytes.Shorts(0x4000))));
        Assert.Equal(12, reader.Info.BitsPerSample);
        Assert.Equal(0.5f, Sound.Read(reader).Left[0]);
    }

    [Fact]
    public void FloatsMayBeExtensibleAndMayPassFullScale()
    {
        byte[] fmt = WavBytes.Extensible(3, channels: 2, 48_000, bits: 32, validBits: 32, mask: 3);
        using IAudioReader reader = Open(WavBytes.File(fmt, WavBytes.Chunk("data", WavBytes.Floats(1.5f, -2.5f))));
        Assert.Equal(SampleEncoding.Float, reader.Info.Encoding);
        Sound sound = Sound.Read(reader);
        Assert.Equal(1.5f, sound.Left[0]);
        Assert.Equal(-2.5f, sound.Right[0]);
    }

    [Theory]
    [InlineData("RF64")]
    [InlineData("BW64")]
    public void LongSizesStandInTheDs64Chunk(string form)
    {
        byte[] ds64 = WavBytes.Ds64(riffBytes: 0, dataBytes: 8, frames: 2, ("bext", 6));
        byte[] bext = WavBytes.Chunk("bext", new byte[6], uint.MaxValue);
        byte[] data = WavBytes.Chunk("data", WavBytes.Shorts(8192, -8192, 16384, -16384), uint.MaxValue);
        byte[] file = WavBytes.Form(form, uint.MaxValue, ds64, bext, WavBytes.PlainFmt, data, WavBytes.Chunk("iXML", new byte[40]));
        using IAudioReader reader = Open(file);
        Assert.Equal((form, SampleEncoding.Integer, 16, 2, 48_000, 2L), Facts(reader));
        AssertTwoFrames(reader);
    }

    [Fact]
    public void AnRf64SizeThatFitsIn32BitsIsUsedAsItStands()
    {
        // BS.2088 section 2.4 (REFERENCES 11.2): only 0xFFFFFFFF defers to ds64.
        byte[] ds64 = WavBytes.Ds64(riffBytes: 0, dataBytes: 4000, frames: 1000);
        AssertTwoFrames(WavBytes.Form("RF64", uint.MaxValue, ds64, WavBytes.PlainFmt, Data));
    }

    [Fact]
    public void SoundBeyondFourGibibytesIsReachedInASparseFile()
    {
        string path = folder.File("Quay at night.wav");
        const long Frames = (1L << 32) + 1000;
        byte[] header = WavBytes.Form(
            "RF64",
            uint.MaxValue,
            WavBytes.Ds64(riffBytes: 0, dataBytes: Frames * 4, frames: Frames),
            WavBytes.PlainFmt,
            WavBytes.Chunk("data", [], uint.MaxValue));
        using (FileStream file = new(path, FileMode.CreateNew))
        {
            file.Write(header);
            file.SetLength(header.Length + (Frames * 4));
            file.Position = file.Length - 4;
            file.Write(WavBytes.Shorts(8192, -8192));
        }

        using IAudioReader reader = AudioFile.Open(path);
        Assert.Equal(Frames, reader.Info.Frames);
        reader.Seek(Frames - 2);
        Sound end = Sound.Read(reader);
        Assert.Equal([0, 0.25f], end.Left);
        Assert.Equal([0, -0.25f], end.Right);
    }

    private static (string, SampleEncoding, int, int, int, long) Facts(IAudioReader reader)
    {
        AudioFileInfo info = reader.Info;
        return (info.Container, info.Encoding, info.BitsPerSample, info.Channels, info.SampleRate, info.Frames);
    }

    private void AssertTwoFrames(byte[] file)
    {
        using IAudioReader reader = Open(file);
        AssertTwoFrames(reader);
    }

    private static void AssertTwoFrames(IAudioReader reader)
    {
        Sound sound = Sound.Read(reader);
        Assert.Equal([0.25f, 0.5f], sound.Left);
        Assert.Equal([-0.25f, -0.5f], sound.Right);
    }

    private IAudioReader Open(byte[] bytes) => AudioFile.Open(folder.File("Bass.wav", bytes));
}
