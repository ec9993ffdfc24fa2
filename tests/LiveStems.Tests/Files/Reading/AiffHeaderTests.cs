using LiveStems.Files;
using LiveStems.Files.Reading;
using Xunit;

namespace LiveStems.Tests.Files.Reading;

/// <summary>Layouts and 80-bit rates of REFERENCES section 11.5.</summary>
public sealed class AiffHeaderTests : IDisposable
{
    // One frame of 0.5 and −0.25.
    private static readonly byte[] BigEndian16 = [0x40, 0, 0xE0, 0];
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void APlainHeaderIsTold()
    {
        byte[] file = AiffBytes.File("AIFF", AiffBytes.Comm(2, frames: 1, bits: 16), AiffBytes.Sound(BigEndian16));
        AssertOneFrame(file, "AIFF", SampleEncoding.Integer, bits: 16);
    }

    [Fact]
    public void ChunksMayComeInAnyOrderAndTheSoundMayStartLate()
    {
        byte[] name = AiffBytes.Chunk("NAME", new byte[5]);
        byte[] file = AiffBytes.File("AIFF", name, AiffBytes.Sound(BigEndian16, skipped: 3), name, AiffBytes.Comm(2, 1, 16));
        AssertOneFrame(file, "AIFF", SampleEncoding.Integer, bits: 16);
    }

    [Theory]
    [InlineData("NONE", 16, 16, new byte[] { 0x40, 0, 0xE0, 0 })]
    [InlineData("NONE", 8, 8, new byte[] { 0x40, 0xE0 })]
    [InlineData("twos", 16, 16, new byte[] { 0x40, 0, 0xE0, 0 })]
    [InlineData("NONE", 24, 24, new byte[] { 0x40, 0, 0, 0xE0, 0, 0 })]
    [InlineData("NONE", 20, 20, new byte[] { 0x40, 0, 0, 0xE0, 0, 0 })]
    [InlineData("in24", 16, 24, new byte[] { 0x40, 0, 0, 0xE0, 0, 0 })]
    [InlineData("42ni", 24, 24, new byte[] { 0, 0, 0x40, 0, 0, 0xE0 })]
    [InlineData("in32", 16, 32, new byte[] { 0x40, 0, 0, 0, 0xE0, 0, 0, 0 })]
    [InlineData("23ni", 32, 32, new byte[] { 0, 0, 0, 0x40, 0, 0, 0, 0xE0 })]
    [InlineData("sowt", 16, 16, new byte[] { 0, 0x40, 0, 0xE0 })]
    [InlineData("raw ", 8, 8, new byte[] { 0xC0, 0x60 })]
    public void WholeNumbersOfEveryCodingAreRead(string coding, int bits, int validBits, byte[] samples)
    {
        byte[] comm = AiffBytes.Comm(2, frames: 1, (ushort)bits, coding: coding);
        AssertOneFrame(AiffBytes.File("AIFC", comm, AiffBytes.Sound(samples)), "AIFC", SampleEncoding.Integer, validBits);
    }

    [Theory]
    [InlineData("fl32", 32, new byte[] { 0x3F, 0, 0, 0, 0xBE, 0x80, 0, 0 })]
    [InlineData("FL32", 32, new byte[] { 0x3F, 0, 0, 0, 0xBE, 0x80, 0, 0 })]
    [InlineData("fl64", 64, new byte[] { 0x3F, 0xE0, 0, 0, 0, 0, 0, 0, 0xBF, 0xD0, 0, 0, 0, 0, 0, 0 })]
    public void FloatsOfEveryCodingAreRead(string coding, int bits, byte[] samples)
    {
        byte[] comm = AiffBytes.Comm(2, frames: 1, (ushort)bits, coding: coding);
        AssertOneFrame(AiffBytes.File("AIFC", comm, AiffBytes.Sound(samples)), "AIFC", SampleEncoding.Float, bits);
    }

    [Theory]
    [InlineData(0x400B, 0xFA00, 8_000)]
    [InlineData(0x400D, 0xAC44, 22_050)]
    [InlineData(0x400D, 0xFA00, 32_000)]
    [InlineData(0x400E, 0xAC44, 44_100)]
    [InlineData(0x400E, 0xBB80, 48_000)]
    [InlineData(0x400F, 0xAC44, 88_200)]
    [InlineData(0x400F, 0xBB80, 96_000)]
    [InlineData(0x4010, 0xAC44, 176_400)]
    [InlineData(0x4010, 0xBB80, 192_000)]
    public void ExtendedRatesAreRead(int exponent, int mantissa, int expected)
    {
        byte[] rate = [.. AiffBytes.UInt16((ushort)exponent), .. AiffBytes.UInt16((ushort)mantissa), 0, 0, 0, 0, 0, 0];
        using IAudioReader reader = Open(AiffBytes.File("AIFF", AiffBytes.Comm(2, 1, 16, rate), AiffBytes.Sound(BigEndian16)));
        Assert.Equal(expected, reader.Info.SampleRate);
    }

    [Theory]
    [InlineData(0u, 0u)]
    [InlineData(0u, 8u)]
    [InlineData(0x1FC00000u, 0x7F000008u)]
    public void SizesThatWereNeverFilledInMeanTheRestOfTheFile(uint frames, uint soundSize)
    {
        byte[] file = AiffBytes.File("AIFF", AiffBytes.Comm(2, frames, 16), AiffBytes.Sound(BigEndian16, size: soundSize));
        AssertOneFrame(file, "AIFF", SampleEncoding.Integer, bits: 16);
    }

    private void AssertOneFrame(byte[] file, string container, SampleEncoding encoding, int bits)
    {
        using IAudioReader reader = Open(file);
        Assert.Equal(container, reader.Info.Container);
        Assert.Equal(encoding, reader.Info.Encoding);
        Assert.Equal(bits, reader.Info.BitsPerSample);
        Sound sound = Sound.Read(reader);
        Assert.Equal([0.5f], sound.Left);
        Assert.Equal([-0.25f], sound.Right);
    }

    private IAudioReader Open(byte[] bytes) => AudioFile.Open(folder.File("Bass.wav", bytes));
}
