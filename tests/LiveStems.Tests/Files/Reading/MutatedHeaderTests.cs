using LiveStems.Files;
using LiveStems.Files.Reading;
using Xunit;

namespace LiveStems.Tests.Files.Reading;

/// <summary>Whatever happens to a header, the outcome is sound or one line.</summary>
public class MutatedHeaderTests
{
    private const int Rounds = 1_500;

    // Numbers that break careless arithmetic.
    private static readonly byte[][] Spans =
    [
        [0, 0, 0, 0], [255, 255, 255, 255], [255, 255, 255, 127], [0, 0, 0, 128], [127, 255, 255, 255], [128, 0, 0, 0],
        [0, 0, 0, 0, 0, 0, 0, 128], [255, 255, 255, 255, 255, 255, 255, 255], [1, 0, 0, 0], [0, 0, 0, 1], [.. "data"u8], [.. "fmt "u8],
    ];

    public static TheoryData<string, byte[]> Files => new()
    {
        { "16 bits", WavBytes.File(WavBytes.PlainFmt, WavBytes.TwoFrames) },
        { "extensible", WavBytes.File(WavBytes.Extensible(1, 2, 48_000, 24, 24, 3), WavBytes.Chunk("data", new byte[18])) },
        { "float", WavBytes.File(WavBytes.Fmt(3, 1, 48_000, 32), WavBytes.Chunk("fact", new byte[4]), WavBytes.Chunk("data", new byte[18])) },
        {
            "RF64",
            WavBytes.Form(
                "RF64",
                uint.MaxValue,
                WavBytes.Ds64(200, 8, 2, ("bext", 7)),
                WavBytes.Chunk("bext", new byte[7], uint.MaxValue),
                WavBytes.PlainFmt,
                WavBytes.Chunk("data", new byte[8], uint.MaxValue))
        },
        { "AIFF", AiffBytes.File("AIFF", AiffBytes.Comm(2, 4, 16), AiffBytes.Sound(new byte[16], skipped: 4)) },
        { "AIFC", AiffBytes.File("AIFC", AiffBytes.Sound(new byte[16]), AiffBytes.Comm(1, 4, 32, coding: "fl32")) },
    };

    [Theory]
    [MemberData(nameof(Files))]
    public void AnyMutationGivesSoundOrOneLine(string name, byte[] original)
    {
        using TemporaryFolder folder = new();
        Random random = new(name.Length);
        float[] left = new float[256], right = new float[256];
        for (int round = 0; round < Rounds; round++)
        {
            byte[] mutated = Mutate(original, random);
            string path = folder.File("Bass.wav", mutated);
            long before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                using IAudioReader reader = AudioFile.Open(path);
                Assert.InRange(reader.Info.Channels, 1, 2);
                Assert.InRange(reader.Info.Frames, 1, mutated.Length);
                while (reader.Read(left, right) > 0)
                {
                }
            }
            catch (AudioFileException fault)
            {
                Assert.StartsWith(path + ": ", fault.Message, StringComparison.Ordinal);
                Assert.DoesNotContain(fault.Message, char.IsControl);
                Assert.Null(fault.InnerException);
            }

            Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 200_000, Convert.ToHexString(mutated));
        }
    }

    private static byte[] Mutate(byte[] original, Random random)
    {
        List<byte> bytes = [.. original];
        for (int times = random.Next(1, 4); times > 0 && bytes.Count > 0; times--)
        {
            int place = random.Next(bytes.Count);
            switch (random.Next(6))
            {
                case 0:
                    bytes[place] = (byte)random.Next(256);
                    break;
                case 1:
                    bytes[place] ^= (byte)(1 << random.Next(8));
                    break;
                case 2:
                    bytes.RemoveRange(place, bytes.Count - place);
                    break;
                case 3:
                    bytes.RemoveRange(place, Math.Min(random.Next(1, 9), bytes.Count - place));
                    break;
                case 4:
                    bytes.InsertRange(place, bytes.GetRange(place, Math.Min(random.Next(1, 40), bytes.Count - place)));
                    break;
                default:
                    byte[] span = Spans[random.Next(Spans.Length)];
                    bytes.RemoveRange(place, Math.Min(span.Length, bytes.Count - place));
                    bytes.InsertRange(place, span);
                    break;
            }
        }

        return [.. bytes];
    }
}
