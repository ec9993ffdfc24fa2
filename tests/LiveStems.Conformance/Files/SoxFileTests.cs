using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Conformance.Files;

/// <summary>Files of sox 14.4 are read as what went into them, and ours by sox.</summary>
public class SoxFileTests
{
    [Theory]
    [InlineData(8)]
    [InlineData(16)]
    [InlineData(24)]
    [InlineData(32)]
    public void WholeNumbersInWavAndAiffAreReadExactly(int bits)
    {
        using KnownSound sound = new(bits);
        foreach ((string name, string container) in (ReadOnlySpan<(string, string)>)[("a.wav", "WAV"), ("a.aiff", "AIFF"), ("a.aifc", "AIFC")])
        {
            Sox([.. RawInput(bits, "signed-integer", sound), "-b", $"{bits}", sound.File(name)]);
            sound.AssertReadFrom(sound.File(name), container);
        }
    }

    [Theory]
    [InlineData(32)]
    [InlineData(64)]
    public void FloatsInWavAreReadExactly(int bits)
    {
        using KnownSound sound = new(bits, isFloat: true);
        Sox([.. RawInput(bits, "floating-point", sound), "-b", $"{bits}", "-e", "floating-point", sound.File("a.wav")]);
        sound.AssertReadFrom(sound.File("a.wav"), "WAV");
    }

    [Theory]
    [InlineData("wav", "WAV", 16)]
    [InlineData("wav", "WAV", 24)]
    [InlineData("aiff", "AIFF", 16)]
    [InlineData("aiff", "AIFF", 24)]
    public void WhatSoxWritesIntoAPipeIsReadToItsEnd(string type, string container, int bits)
    {
        using KnownSound sound = new(bits);
        Prerequisite.Program("sox");
        string path = sound.File("piped");
        Prerequisite.Run("sh", "-c",
            $"cat '{sound.Raw}' | sox -D -t raw -r 48000 -c 2 -b {bits} -e signed-integer - -t {type} - 2>/dev/null | cat > '{path}'");
        sound.AssertReadFrom(path, container);
    }

    [Theory]
    [InlineData(16, false)]
    [InlineData(24, false)]
    [InlineData(32, false)]
    [InlineData(32, true)]
    public void WhatWeWriteSoxReadsExactly(int bits, bool isFloat)
    {
        using KnownSound sound = new(bits, isFloat);
        string path = sound.File("ours.wav");
        using (WavWriter writer = new(path, new WavFormat(48_000, bits, isFloat)))
        {
            writer.Write(sound.Left, sound.Right);
            writer.Complete();
        }

        string back = sound.File("back.raw");
        Sox([path, "-t", "raw", "-b", $"{bits}", "-e", isFloat ? "floating-point" : "signed-integer", back]);
        Assert.Equal(sound.Bytes, File.ReadAllBytes(back));
    }

    private static string[] RawInput(int bits, string encoding, KnownSound sound) =>
        ["-t", "raw", "-r", "48000", "-c", "2", "-b", $"{bits}", "-e", encoding, sound.Raw];

    private static void Sox(params string[] arguments) => Prerequisite.Run("sox", ["-D", .. arguments]);
}
