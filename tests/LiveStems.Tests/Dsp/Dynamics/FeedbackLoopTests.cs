using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class FeedbackLoopTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(-20, 4, 0)]
    [InlineData(-20, 4, 6)]
    [InlineData(-18, 2, 12)]
    [InlineData(-12, double.PositiveInfinity, 6)]
    [InlineData(-30, 1, 6)]
    public void TheLoopSettlesOnTheStaticCurve(double thresholdDb, double ratio, double kneeDb)
    {
        GainComputer curve = GainComputer.Compressor(thresholdDb, ratio, kneeDb);
        for (double level = -40; level <= 0; level += 0.7)
        {
            float held = (float)curve.ReductionDb(level);
            float[] reduction = Run(curve, attackMs: 5, held, frames: 40 * 240);
            Assert.Equal(held, reduction[^1], 1e-4);
        }
    }

    [Fact]
    public void AboveAHardKneeTheLoopClosesRatioTimesSooner()
    {
        // r[n] = αe r[n−1] + (1 − αe) h with αe = α s/(s + (1 − α)(1 − s)), s = 1/R: derived from the loop's equations.
        double pole = TimeConstant.Pole(20, SampleRate);
        double loopPole = pole * 0.25 / (0.25 + (1 - pole) * 0.75);
        float[] reduction = Run(GainComputer.Compressor(-20, 4, 0), attackMs: 20, 9, frames: 1000);
        for (int n = 0; n < reduction.Length; n += 37)
        {
            Assert.Equal(9 * (1 - Math.Pow(loopPole, n + 1)), reduction[n], 1e-5);
        }

        int frames = Array.FindIndex(reduction, value => value >= 9 * (1 - Math.Exp(-1)));
        Assert.InRange(frames / 48.0, 4.9, 5.1);
    }

    [Theory]
    [InlineData(4, 0)]
    [InlineData(4, 12)]
    [InlineData(10, 6)]
    public void TheSolvedLoopIsTheLimitOfALoopWithShorterAndShorterDelay(double ratio, double kneeDb)
    {
        // Reference: the detector hears the last output, one step of 1/512 of a sample ago, in double precision.
        const int Finer = 512;
        GainComputer curve = GainComputer.Compressor(-20, ratio, kneeDb);
        float held = (float)curve.ReductionDb(-5);
        float[] solved = Run(curve, attackMs: 10, held, frames: 480);
        double pole = TimeConstant.Pole(10, SampleRate * (double)Finer);
        double r = 0;
        for (int n = 0; n < solved.Length; n++)
        {
            for (int k = 0; k < Finer; k++)
            {
                r = pole * r + (1 - pole) * LoopCurve(curve, -5 - r);
            }

            // One step of the solved loop lags the continuous one by less than half a sample of its own movement.
            Assert.Equal(r, solved[n], 0.06);
        }
    }

    [Fact]
    public void AnyAttackAndRatioStaysBetweenNothingAndTheCurve()
    {
        Random random = new(4);
        for (int i = 0; i < 300; i++)
        {
            GainComputer curve = GainComputer.Compressor(-80 * random.NextDouble(), 1 + 100 * random.NextDouble(), 24 * random.NextDouble());
            float held = (float)curve.ReductionDb(20 * random.NextDouble());
            float[] reduction = Run(curve, 0.05 + random.NextDouble(), held, 500);
            Assert.All(reduction, value => Assert.InRange(value, 0, held + 1e-4f));
        }
    }

    private static float[] Run(in GainComputer curve, double attackMs, float held, int frames)
    {
        FeedbackLoop loop = new();
        loop.Set(attackMs, curve, SampleRate);
        float[] x = new float[frames];
        Array.Fill(x, held);
        loop.Process(x, x);
        return x;
    }

    /// <summary>The reduction F(y) that the loop's curve asks for at an output level, by bisection of y = u − C(u).</summary>
    private static double LoopCurve(in GainComputer curve, double outputDb)
    {
        double low = outputDb;
        double high = outputDb + 400;
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            if (middle - curve.ReductionDb(middle) < outputDb)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return curve.ReductionDb(low);
    }
}
