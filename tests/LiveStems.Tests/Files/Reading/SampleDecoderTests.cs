using LiveStems.Files;
using LiveStems.Files.Reading;
using Xunit;

namespace LiveStems.Tests.Files.Reading;

public class SampleDecoderTests
{
    public static TheoryData<bool, int, bool, bool> Layouts => new()
    {
        { false, 1, false, true },
        { false, 1, false, false },
        { false, 2, false, false },
        { false, 2, true, false },
        { false, 3, false, false },
        { false, 3, true, false },
        { false, 4, false, false },
        { false, 4, true, false },
        { true, 4, false, false },
        { true, 4, true, false },
        { true, 8, false, false },
        { true, 8, true, false },
    };

    [Theory]
    [MemberData(nameof(Layouts))]
    public void EveryLengthAndChannelGivesWhatPlainDecodingGives(bool isFloat, int bytes, bool isBigEndian, bool isOffsetBinary)
    {
        SampleLayout layout = new(isFloat, bytes, isBigEndian, isOffsetBinary);
        Random random = new(7);
        foreach (int channels in (int[])[1, 2])
        {
            SampleDecoder decoder = new(layout, channels);
            foreach (int frames in (int[])[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 15, 16, 17, 31, 33, 511, 512, 513, 1031])
            {
                byte[] source = Samples(random, layout, frames * channels);
                float[] left = new float[frames], right = new float[frames];
                Assert.True(decoder.Decode(source, left, right));
                for (int frame = 0; frame < frames; frame++)
                {
                    Span<byte> at = source.AsSpan(frame * channels * bytes);
                    Assert.Equal(PlainDecoding.One(layout, at), left[frame]);
                    Assert.Equal(channels == 1 ? left[frame] : PlainDecoding.One(layout, at[bytes..]), right[frame]);
                }
            }
        }
    }

    [Fact]
    public void WholeNumbersOf32BitsAreRoundedToTheNearestFloat()
    {
        // 2^30 + 64 lies half way between two floats (their step there is 128) and goes to the even one below;
        // 2^31 − 1 is nearest to full scale itself.
        int[] samples = [1 << 30, (1 << 30) + 63, (1 << 30) + 64, (1 << 30) + 65, int.MaxValue, int.MinValue, 1];
        float[] expected = [0.5f, 0.5f, 0.5f, 0.5f + (128f / 2147483648f), 1, -1, 1f / 2147483648f];
        byte[] source = [.. samples.SelectMany(BitConverter.GetBytes)];
        float[] left = new float[7], right = new float[7];
        new SampleDecoder(new SampleLayout(IsFloat: false, 4), channels: 1).Decode(source, left, right);
        Assert.Equal(expected, left);
    }

    [Theory]
    [InlineData(4, false)]
    [InlineData(4, true)]
    [InlineData(8, false)]
    [InlineData(8, true)]
    public void ASampleThatIsNoNumberIsNoticedWhereverItStands(int bytes, bool isBigEndian)
    {
        const int Frames = 23;
        foreach (double bad in (double[])[double.NaN, double.PositiveInfinity, double.NegativeInfinity])
        {
            for (int place = 0; place < 2 * Frames; place++)
            {
                byte[] source = new byte[2 * Frames * bytes];
                byte[] sample = bytes == 8 ? BitConverter.GetBytes(bad) : BitConverter.GetBytes((float)bad);
                (isBigEndian ? [.. sample.Reverse()] : sample).CopyTo(source, place * bytes);
                foreach (int channels in (int[])[1, 2])
                {
                    int frames = 2 * Frames / channels;
                    SampleDecoder decoder = new(new SampleLayout(IsFloat: true, bytes, isBigEndian), channels);
                    Assert.False(decoder.Decode(source, new float[frames], new float[frames]));
                }
            }
        }
    }

    private static byte[] Samples(Random random, SampleLayout layout, int samples)
    {
        byte[] bytes = new byte[samples * layout.Bytes];
        random.NextBytes(bytes);
        for (int sample = 0; layout.IsFloat && sample < samples; sample++)
        {
            double value = (random.NextDouble() * 4) - 2;
            byte[] littleEndian = layout.Bytes == 8 ? BitConverter.GetBytes(value) : BitConverter.GetBytes((float)value);
            (layout.IsBigEndian ? [.. littleEndian.Reverse()] : littleEndian).CopyTo(bytes, sample * layout.Bytes);
        }

        return bytes;
    }
}
