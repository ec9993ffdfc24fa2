using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class LoudnessMakeUpTests
{
    [Fact]
    public void AConstantLossIsMadeUpExactly()
    {
        Assert.Equal(6.0206, GainAfter(seconds: 10, TestSignals.MusicLike(48_000, 1, 0.3), 0.5f), 0.001);
    }

    [Fact]
    public void TheGainGlidesWithItsTimeConstant()
    {
        // One-pole of 500 ms towards a ratio that is right from the first interval on.
        double gain = GainAfter(seconds: 0.5, TestSignals.WhiteNoise(48_000, 1, 0.3), 0.5f);
        Assert.Equal(6.0206 * (1 - Math.Exp(-1)), gain, 0.02);
    }

    [Fact]
    public void SilenceMovesNothing()
    {
        LoudnessMakeUp makeUp = new(48_000, 32);
        float[] quiet = TestSignals.WhiteNoise(32, 1, 1e-5);
        for (int i = 0; i < 3000; i++)
        {
            makeUp.AddBefore(quiet, quiet);
            makeUp.AddAfter(new float[32], new float[32]);
            makeUp.EndInterval(0);
        }

        Assert.Equal(0, makeUp.GainDb);
    }

    private static double GainAfter(double seconds, float[] signal, float loss)
    {
        LoudnessMakeUp makeUp = new(48_000, 32);
        float[] lower = [.. signal.Select(x => x * loss)];
        int intervals = (int)(seconds * 1500);
        for (int i = 0; i < intervals; i++)
        {
            int start = i % 1500 * 32;
            makeUp.AddBefore(signal.AsSpan(start, 32), signal.AsSpan(start, 32));
            makeUp.AddAfter(lower.AsSpan(start, 32), lower.AsSpan(start, 32));
            makeUp.EndInterval(0);
        }

        return makeUp.GainDb;
    }
}
