using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Conformance.Files;

/// <summary>Files of ffmpeg are read as what went into them, and ours by ffmpeg.</summary>
public class FfmpegFileTests
{
    [Theory]
    [InlineData(16, "pcm_s16le")]
    [InlineData(24, "pcm_s24le")]
    [InlineData(32, "pcm_s32le")]
    public void WholeNumbersInWavAreReadExactly(int bits, string coding)
    {
        using KnownSound sound = new(bits);
        Ffmpeg([.. RawInput($"s{bits}le", sound), "-c:a", coding, sound.File("a.wav")]);
        sound.AssertReadFrom(sound.File("a.wav"), "WAV");
    }

    [Theory]
    [InlineData(32, "pcm_f32le")]
    [InlineData(64, "pcm_f64le")]
    public void FloatsInWavAreReadExactly(int bits, string coding)
    {
        using KnownSound sound = new(bits, isFloat: true);
        Ffmpeg([.. RawInput($"f{bits}le", sound), "-c:a", coding, sound.File("a.wav")]);
        sound.AssertReadFrom(sound.File("a.wav"), "WAV");
    }

    [Theory]
    [InlineData(16, "pcm_s16be", "AIFF")]
    [InlineData(24, "pcm_s24be", "AIFF")]
    [InlineData(32, "pcm_s32be", "AIFF")]
    [InlineData(16, "pcm_s16le", "AIFC")]
    public void WholeNumbersInAiffAreReadExactly(int bits, string coding, string container)
    {
        using KnownSound sound = new(bits);
        Ffmpeg([.. RawInput($"s{bits}le", sound), "-c:a", coding, sound.File("a.aiff")]);
        sound.AssertReadFrom(sound.File("a.aiff"), container);
    }

    [Theory]
    [InlineData(32, "pcm_f32be")]
    [InlineData(64, "pcm_f64be")]
    public void FloatsInAifcAreReadExactly(int bits, string coding)
    {
        using KnownSound sound = new(bits, isFloat: true);
        Ffmpeg([.. RawInput($"f{bits}le", sound), "-c:a", coding, sound.File("a.aiff")]);
        sound.AssertReadFrom(sound.File("a.aiff"), "AIFC");
    }

    [Fact]
    public void Rf64IsReadExactly()
    {
        using KnownSound sound = new(bits: 24);
        Ffmpeg([.. RawInput("s24le", sound), "-c:a", "pcm_s24le", "-rf64", "always", sound.File("a.wav")]);
        sound.AssertReadFrom(sound.File("a.wav"), "RF64");
    }

    [Fact]
    public void ABroadcastChunkBeforeTheSoundIsPassedOver()
    {
        using KnownSound sound = new(bits: 16);
        Ffmpeg([.. RawInput("s16le", sound), "-write_bext", "1", "-metadata", "description=The quay, take 2", sound.File("a.wav")]);
        sound.AssertReadFrom(sound.File("a.wav"), "WAV");
    }

    [Theory]
    [InlineData("wav", "pcm_s16le", "WAV")]
    [InlineData("aiff", "pcm_s16be", "AIFF")]
    public void WhatFfmpegWritesIntoAPipeIsReadToItsEnd(string type, string coding, string container)
    {
        using KnownSound sound = new(bits: 16);
        Prerequisite.Program("ffmpeg");
        string path = sound.File("piped");
        Prerequisite.Run("sh", "-c",
            $"ffmpeg -v error -f s16le -ar 48000 -ac 2 -i '{sound.Raw}' -c:a {coding} -f {type} - | cat > '{path}'");
        sound.AssertReadFrom(path, container);
    }

    [Theory]
    [InlineData(16, false, false)]
    [InlineData(24, false, false)]
    [InlineData(32, false, false)]
    [InlineData(32, true, false)]
    [InlineData(24, false, true)]
    [InlineData(32, true, true)]
    public void WhatWeWriteFfmpegReadsExactly(int bits, bool isFloat, bool isRf64)
    {
        using KnownSound sound = new(bits, isFloat);
        string path = sound.File("ours.wav");
        long longestRiff = isRf64 ? 1000 : uint.MaxValue;
        using (WavWriter writer = new(path, new WavFormat(48_000, bits, isFloat), longestRiff, target => new TemporaryFile(target)))
        {
            writer.Write(sound.Left, sound.Right);
            writer.Complete();
        }

        string form = $"{(isFloat ? 'f' : 's')}{bits}le";
        string back = sound.File("back.raw");
        Ffmpeg("-i", path, "-f", form, "-c:a", $"pcm_{form}", back);
        Assert.Equal(sound.Bytes, File.ReadAllBytes(back));
    }

    private static string[] RawInput(string form, KnownSound sound) => ["-f", form, "-ar", "48000", "-ac", "2", "-i", sound.Raw];

    private static void Ffmpeg(params string[] arguments) => Prerequisite.Run("ffmpeg", ["-v", "error", "-y", .. arguments]);
}
