using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Tests.Files.Writing;

public class SampleEncoderTests
{
    public static TheoryData<int, bool, int> Forms => new()
    {
        { 16, false, 1 }, { 16, false, 2 }, { 24, false, 1 }, { 24, false, 2 },
        { 32, false, 1 }, { 32, false, 2 }, { 32, true, 1 }, { 32, true, 2 },
    };

    [Theory]
    [MemberData(nameof(Forms))]
    public void EveryLengthGivesWhatPlainEncodingGives(int bits, bool isFloat, int channels)
    {
        Random random = new(3);
        foreach (int frames in (int[])[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 15, 16, 17, 31, 33, 1031])
        {
            // Up to 1.5 of full scale, so that a third of the samples is out of range.
            float[] left = [.. Enumerable.Range(0, frames).Select(_ => (float)((random.NextDouble() * 3) - 1.5))];
            float[] right = [.. Enumerable.Range(0, frames).Select(_ => (float)((random.NextDouble() * 3) - 1.5))];
            SampleEncoder encoder = new(new WavFormat(48_000, bits, isFloat, channels));
            byte[] encoded = new byte[frames * encoder.FrameBytes];
            Assert.True(encoder.Encode(left, right, encoded));

            IEnumerable<float> interleaved = channels == 1 ? left : left.Zip(right).SelectMany(pair => (float[])[pair.First, pair.Second]);
            (byte[] expected, long clipped) = Plain(interleaved, bits, isFloat);
            Assert.Equal(expected, encoded);
            Assert.Equal(clipped, encoder.ClippedSamples);
        }
    }

    [Theory]
    [InlineData(16)]
    [InlineData(24)]
    [InlineData(32)]
    public void EveryWholeNumberOfUpTo24BitsSurvivesTheWayThroughFloat(int bits)
    {
        const int Block = 1 << 16;
        SampleDecoder decoder = new(new SampleLayout(IsFloat: false, bits / 8), channels: 1);
        SampleEncoder encoder = new(new WavFormat(48_000, bits, IsFloat: false, Channels: 1));
        byte[] source = new byte[Block * bits / 8], back = new byte[source.Length];
        float[] samples = new float[Block], right = new float[Block];
        for (int first = 0; first < 1 << Math.Min(bits, 24); first += Block)
        {
            for (int sample = 0; sample < Block; sample++)
            {
                // Of 32 bits the 24 highest, which is what a float can hold.
                int value = (first + sample) << Math.Max(0, bits - 24);
                BitConverter.GetBytes(value).AsSpan(0, bits / 8).CopyTo(source.AsSpan(sample * bits / 8));
            }

            decoder.Decode(source, samples, right);
            encoder.Encode(samples, samples, back);
            Assert.True(source.AsSpan().SequenceEqual(back), $"differs between {first} and {first + Block}");
        }

        Assert.Equal(0, encoder.ClippedSamples);
    }

    [Fact]
    public void HalvesAreRoundedToTheEvenNumber()
    {
        const float Step = 1f / 32768;
        float[] samples = [0.5f * Step, 1.5f * Step, 2.5f * Step, -0.5f * Step, -1.5f * Step, -2.5f * Step, 0.501f * Step];
        byte[] encoded = new byte[14];
        new SampleEncoder(new WavFormat(48_000, 16, IsFloat: false, Channels: 1)).Encode(samples, samples, encoded);
        Assert.Equal(WavBytes.Shorts(0, 2, 2, 0, -2, -2, 1), encoded);
    }

    [Theory]
    [InlineData(16, 32767, -32768)]
    [InlineData(24, 8388607, -8388608)]
    [InlineData(32, int.MaxValue, int.MinValue)]
    public void WhatIsOutOfRangeSaturatesAndIsCounted(int bits, int highest, int lowest)
    {
        float[] samples = [1, 1.0001f, 4, float.MaxValue, -1, -1.0001f, -4, float.MinValue];
        SampleEncoder encoder = new(new WavFormat(48_000, bits, IsFloat: false, Channels: 1));
        byte[] encoded = new byte[samples.Length * bits / 8];
        Assert.True(encoder.Encode(samples, samples, encoded));
        int[] expected = [highest, highest, highest, highest, lowest, lowest, lowest, lowest];
        Assert.Equal(expected.SelectMany(value => BitConverter.GetBytes(value)[..(bits / 8)]), encoded);

        // −1 is in range; +1 is one step beyond it.
        Assert.Equal(7, encoder.ClippedSamples);
    }

    [Theory]
    [MemberData(nameof(Forms))]
    public void ASampleThatIsNoNumberIsRefusedWhereverItStands(int bits, bool isFloat, int channels)
    {
        const int Frames = 13;
        foreach (float value in (float[])[float.NaN, float.PositiveInfinity, float.NegativeInfinity])
        {
            for (int frame = 0; frame < Frames; frame++)
            {
                float[] good = new float[Frames], bad = new float[Frames];
                bad[frame] = value;
                SampleEncoder encoder = new(new WavFormat(48_000, bits, isFloat, channels));
                byte[] encoded = new byte[Frames * encoder.FrameBytes];
                Assert.False(encoder.Encode(bad, channels == 1 ? bad : good, encoded));
                Assert.Equal(channels == 1, encoder.Encode(good, channels == 1 ? good : bad, encoded));
            }
        }
    }

    private static (byte[] Bytes, long Clipped) Plain(IEnumerable<float> samples, int bits, bool isFloat)
    {
        List<byte> bytes = [];
        long clipped = 0;
        double scale = Math.Pow(2, bits - 1);
        foreach (float sample in samples)
        {
            if (isFloat)
            {
                bytes.AddRange(BitConverter.GetBytes(sample));
                continue;
            }

            double rounded = Math.Round(sample * scale, MidpointRounding.ToEven);
            double kept = Math.Clamp(rounded, -scale, scale - 1);
            clipped += rounded == kept ? 0 : 1;
            bytes.AddRange(BitConverter.GetBytes((int)kept)[..(bits / 8)]);
        }

        return ([.. bytes], clipped);
    }
}
