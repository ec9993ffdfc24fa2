using LiveStems.Dsp.Resampling;
using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

/// <summary>Whole signals through the streaming resampler.</summary>
internal static class Resample
{
    /// <summary>The rates that mastering meets, and some that it should not.</summary>
    public static TheoryData<int, int> Pairs => new()
    {
        { 48_000, 44_100 }, { 44_100, 48_000 }, { 96_000, 44_100 }, { 44_100, 96_000 }, { 88_200, 48_000 },
        { 192_000, 44_100 }, { 96_000, 48_000 }, { 48_000, 96_000 }, { 384_000, 44_100 }, { 8_000, 384_000 },
        { 44_101, 48_000 }, { 48_000, 44_101 }, { 96_000, 44_099 },
    };

    /// <summary>The same at both paces, and some more in blocks: every kind of chain of stages.</summary>
    public static TheoryData<int, int, ResamplingPace> PairsAtBothPaces
    {
        get
        {
            TheoryData<int, int, ResamplingPace> all = new()
            {
                { 11_025, 192_000, ResamplingPace.Blocks },
                { 383_999, 8_000, ResamplingPace.Blocks },
                { 44_100, 352_799, ResamplingPace.Blocks },
            };
            foreach (TheoryDataRow<int, int> pair in Pairs)
            {
                all.Add(pair.Data.Item1, pair.Data.Item2, ResamplingPace.Blocks);
                all.Add(pair.Data.Item1, pair.Data.Item2, ResamplingPace.Even);
            }

            return all;
        }
    }

    public static (float[] Left, float[] Right) All(
        int fromRate, int toRate, float[] left, float[] right, ResamplingPace pace = ResamplingPace.Blocks)
    {
        StreamingResampler resampler = new(fromRate, toRate, pace);
        int frames = (int)resampler.OutputFrames(left.Length);
        float[] leftOutput = new float[frames];
        float[] rightOutput = new float[frames];
        resampler.Process(left, right, leftOutput, rightOutput, out int consumed, out int produced);
        Assert.Equal(left.Length, consumed);
        resampler.Finish();
        resampler.Process([], [], leftOutput.AsSpan(produced), rightOutput.AsSpan(produced), out _, out int rest);
        Assert.Equal(frames, produced + rest);
        Assert.True(resampler.IsFinished);
        return (leftOutput, rightOutput);
    }

    public static float[] Noise(int frames, int seed)
    {
        Random random = new(seed);
        float[] noise = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            noise[i] = (float)(random.NextDouble() * 2 - 1);
        }

        return noise;
    }
}
