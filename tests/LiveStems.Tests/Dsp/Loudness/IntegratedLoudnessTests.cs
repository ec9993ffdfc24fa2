using LiveStems.Dsp.Loudness;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

public sealed class IntegratedLoudnessTests
{
    // The meter's relative gate is at most 0.001 LU off; this one is exact.
    [Theory]
    [InlineData(48_000)]
    [InlineData(44_100)]
    [InlineData(11_025)]
    public void IsThatOfTheMeter(int sampleRate)
    {
        float[] left = Noise.White(7 * sampleRate + 123, 1, 0.2f);
        float[] right = Noise.White(left.Length, 2, 0.1f);
        for (int i = 2 * sampleRate; i < 4 * sampleRate; i++)
        {
            left[i] *= 0.02f;
            right[i] *= 0.02f;
        }

        IntegratedLoudness light = new(sampleRate);
        LoudnessMeter meter = new(sampleRate);
        for (int done = 0; done < left.Length; done += 777)
        {
            int frames = Math.Min(777, left.Length - done);
            light.Add(left.AsSpan(done, frames), right.AsSpan(done, frames));
            meter.Add(left.AsSpan(done, frames), right.AsSpan(done, frames));
        }

        Assert.Equal(meter.IntegratedLufs, light.Lufs, 0.001);
    }

    [Fact]
    public void SilenceAndLessThanABlockHaveNone()
    {
        IntegratedLoudness loudness = new(48_000);
        loudness.Add(Noise.White(19_000, 1, 0.5f), Noise.White(19_000, 2, 0.5f));
        Assert.Equal(double.NegativeInfinity, loudness.Lufs);
        IntegratedLoudness silent = new(48_000);
        silent.Add(new float[96_000], new float[96_000]);
        Assert.Equal(double.NegativeInfinity, silent.Lufs);
    }
}
