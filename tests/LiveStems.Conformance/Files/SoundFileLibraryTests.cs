using LiveStems.Files;
using LiveStems.Files.Native;
using LiveStems.Files.Reading;
using Xunit;

namespace LiveStems.Conformance.Files;

/// <summary>What libsndfile decodes for us is what ffmpeg encoded, or decodes.</summary>
public class SoundFileLibraryTests
{
    [Theory]
    [InlineData(16, "flac", "s16", "FLAC")]
    [InlineData(24, "flac", "s32", "FLAC")]
    [InlineData(16, "pcm_s16be", null, "CAF")]
    [InlineData(24, "pcm_s24le", null, "CAF")]
    public void LosslessCodingsAreReadExactly(int bits, string coding, string? sampleFormat, string container)
    {
        RequireLibrary();
        using KnownSound sound = new(bits);
        string path = sound.File("a." + container.ToLowerInvariant());
        string[] format = sampleFormat is null ? [] : ["-sample_fmt", sampleFormat, "-bits_per_raw_sample", $"{bits}"];
        Ffmpeg(["-f", $"s{bits}le", "-ar", "48000", "-ac", "2", "-i", sound.Raw, "-c:a", coding, .. format, path]);
        sound.AssertReadFrom(path, container);
        using IAudioReader reader = AudioFile.Open(path);
        Assert.Equal((SampleEncoding.Integer, bits), (reader.Info.Encoding, reader.Info.BitsPerSample));
    }

    [Fact]
    public void Wave64IsReadExactly()
    {
        // Of sox: ffmpeg 5.1 counts the padding of its last chunk as sound.
        RequireLibrary();
        using KnownSound sound = new(bits: 24);
        string path = sound.File("a.w64");
        Prerequisite.Run("sox", "-D", "-t", "raw", "-r", "48000", "-c", "2", "-b", "24", "-e", "signed-integer", sound.Raw, path);
        sound.AssertReadFrom(path, "W64");
    }

    [Fact]
    public void AFlacFileFromAPipeThatDoesNotTellItsLengthIsReadToItsEnd()
    {
        RequireLibrary();
        Prerequisite.Program("ffmpeg");
        using KnownSound sound = new(bits: 16);
        string path = sound.File("piped");
        Prerequisite.Run("sh", "-c", $"ffmpeg -v error -f s16le -ar 48000 -ac 2 -i '{sound.Raw}' -f flac - | cat > '{path}'");
        sound.AssertReadFrom(path, "FLAC");
    }

    [Fact]
    public void SeekingInFlacReachesTheSample()
    {
        RequireLibrary();
        using KnownSound sound = new(bits: 16);
        string path = sound.File("a.flac");
        Ffmpeg("-f", "s16le", "-ar", "48000", "-ac", "2", "-i", sound.Raw, path);
        using IAudioReader reader = AudioFile.Open(path);
        float[] left = new float[100], right = new float[100];
        foreach (int place in (int[])[15_000, 3, 19_911, 0, 7_777])
        {
            reader.Seek(place);
            Assert.Equal(100, reader.Read(left, right));
            Assert.Equal(sound.Left[place..(place + 100)], left);
            Assert.Equal(sound.Right[place..(place + 100)], right);
        }
    }

    [Theory]
    [InlineData("libvorbis", "ogg", "Ogg")]
    [InlineData("libmp3lame", "mp3", "MP3")]
    public void LossyCodingsAreReadAsFfmpegDecodesThem(string coding, string type, string container)
    {
        RequireLibrary();
        using KnownSound sound = new(bits: 16);
        string path = sound.File("a." + type), decoded = sound.File("decoded.wav");
        Ffmpeg("-f", "s16le", "-ar", "48000", "-ac", "2", "-i", sound.Raw, "-af", "volume=-12dB,lowpass=f=8000", "-c:a", coding, path);
        Ffmpeg("-i", path, "-c:a", "pcm_f32le", decoded);
        using IAudioReader ours = AudioFile.Open(path), reference = AudioFile.Open(decoded);
        Assert.Equal((container, SampleEncoding.Decoded, 0), (ours.Info.Container, ours.Info.Encoding, ours.Info.BitsPerSample));

        // ffmpeg 5.1 does not cut the end of Ogg, so it may have more.
        int frames = KnownSound.Frames;
        Assert.Equal(frames, ours.Info.Frames);
        float[] left = new float[frames], right = new float[frames], expectedLeft = new float[frames], expectedRight = new float[frames];
        ours.Read(left, right);
        reference.Read(expectedLeft, expectedRight);

        // Two decoders in 24-bit significands: some 2^-24 of full scale for each of a few hundred additions a sample.
        const float Tolerance = 300f / (1 << 24);
        for (int frame = 0; frame < frames; frame++)
        {
            Assert.InRange(left[frame], expectedLeft[frame] - Tolerance, expectedLeft[frame] + Tolerance);
            Assert.InRange(right[frame], expectedRight[frame] - Tolerance, expectedRight[frame] + Tolerance);
        }
    }

    [Fact]
    public void ATruncatedFlacFileTellsWhereItBreaksOff()
    {
        RequireLibrary();
        using KnownSound sound = new(bits: 16);
        string path = sound.File("a.flac");
        Ffmpeg("-f", "s16le", "-ar", "48000", "-ac", "2", "-i", sound.Raw, path);
        byte[] whole = File.ReadAllBytes(path);
        File.WriteAllBytes(path, whole[..(whole.Length / 2)]);
        AudioFileException fault = Assert.Throws<AudioFileException>(() => AudioFile.Open(path));
        Assert.StartsWith($"{path}: breaks off after 0.", fault.Message, StringComparison.Ordinal);
        Assert.EndsWith(" of 0.416896 s; copy or export it again", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ADamagedHeaderIsOneLine()
    {
        RequireLibrary();
        using KnownSound sound = new(bits: 16);
        string path = sound.File("a.flac");
        Ffmpeg("-f", "s16le", "-ar", "48000", "-ac", "2", "-i", sound.Raw, path);
        File.WriteAllBytes(path, File.ReadAllBytes(path)[..20]);
        AudioFileException fault = Assert.Throws<AudioFileException>(() => AudioFile.Open(path));
        Assert.StartsWith($"{path}: is a FLAC file that libsndfile cannot read (", fault.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(fault.Message, char.IsControl);
    }

    [Fact]
    public void SixChannelsOfFlacAreRefused()
    {
        RequireLibrary();
        using KnownSound sound = new(bits: 16);
        string path = sound.File("six.flac");
        Ffmpeg("-f", "s16le", "-ar", "48000", "-ac", "2", "-i", sound.Raw, "-ac", "6", path);
        AudioFileException fault = Assert.Throws<AudioFileException>(() => AudioFile.Open(path));
        Assert.Equal($"{path}: has 6 channels; a stem has 1 or 2: split it or mix it down", fault.Message);
    }

    [Theory]
    [InlineData("flac", "flac")]
    [InlineData("pcm_s24le", "caf")]
    [InlineData("pcm_s16le", "w64")]
    [InlineData("libvorbis", "ogg")]
    public void DamageAnywhereGivesSoundOrOneLine(string coding, string type)
    {
        RequireLibrary();
        using KnownSound sound = new(bits: 16);
        string path = sound.File("a." + type);
        Ffmpeg("-f", "s16le", "-ar", "48000", "-ac", "2", "-i", sound.Raw, "-t", "0.1", "-c:a", coding, path);
        byte[] whole = File.ReadAllBytes(path);
        Random random = new(1);
        float[] left = new float[4096], right = new float[4096];
        for (int round = 0; round < 300; round++)
        {
            byte[] damaged = [.. whole];
            for (int times = random.Next(1, 6); times > 0; times--)
            {
                // More often in the header than elsewhere.
                damaged[random.Next(times % 2 == 0 ? damaged.Length : Math.Min(200, damaged.Length))] = (byte)random.Next(256);
            }

            File.WriteAllBytes(path, damaged);
            try
            {
                using IAudioReader reader = AudioFile.Open(path);
                while (reader.Read(left, right) > 0)
                {
                }
            }
            catch (AudioFileException fault)
            {
                Assert.StartsWith(path + ": ", fault.Message, StringComparison.Ordinal);
                Assert.DoesNotContain(fault.Message, char.IsControl);
            }
        }
    }

    private static void RequireLibrary() => Prerequisite.Require(SoundFileLibrary.IsThere, "libsndfile is not installed");

    private static void Ffmpeg(params string[] arguments) => Prerequisite.Run("ffmpeg", ["-v", "error", "-y", .. arguments]);
}
