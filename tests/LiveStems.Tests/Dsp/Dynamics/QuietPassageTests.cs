using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class QuietPassageTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void PassagesThatArePassedOverDoNotChangeABit(int seed)
    {
        const int Rate = 48_000;
        Random random = new(seed);
        TruePeakLimiter passing = Made(mayPassOver: true);
        TruePeakLimiter looking = Made(mayPassOver: false);
        float[] noise = TestSignals.WhiteNoise(2 * Rate, seed);
        float level = 0;
        for (int done = 0, run = 1; done < Rate; done += run)
        {
            // Levels around and below the ceiling, that jump; noise up to half the sample rate.
            level = random.Next(12) == 0 ? (float)Math.Pow(10, (random.NextDouble() * 50 - 45) / 20) : level;
            run = Math.Min(random.Next(1, TruePeakLimiter.ChunkFrames + 1), Rate - done);
            float[] left = [.. noise.Skip(2 * done).Take(run).Select(value => level * value)];
            float[] right = [.. noise.Skip(2 * done + run).Take(run).Select(value => level * value)];
            float[] otherLeft = [.. left];
            float[] otherRight = [.. right];
            passing.Process(left, right, new Ramp(-1), 0);
            looking.Process(otherLeft, otherRight, new Ramp(-1), 0);
            Assert.Equal(otherLeft, left);
            Assert.Equal(otherRight, right);
            Assert.Equal(looking.DeepestReductionDb, passing.DeepestReductionDb);
        }
    }

    [Fact]
    public void FiltersLieNoFartherApartThanTheirDistanceSays()
    {
        HalfWayFilter one = new(16, 5);
        HalfWayFilter other = new(48, 6);
        double distance = HalfWayFilter.Distance(one, other);
        float[] signal = TestSignals.WhiteNoise(2000, 7);
        float[] points = new float[8];
        float[] others = new float[8];
        for (int n = 48; n < signal.Length - 60; n++)
        {
            one.Process(ref signal[n], ref points[0], 1);
            other.Process(ref signal[n], ref others[0], 1);
            double energy = signal.Skip(n - 47).Take(96).Sum(value => (double)value * value);
            Assert.InRange(Math.Abs(points[0] - others[0]), 0, distance * Math.Sqrt(energy) + 1e-6);
        }
    }

    private static TruePeakLimiter Made(bool mayPassOver)
    {
        TruePeakLimiter limiter = new(96, 48_000) { MayPassOver = mayPassOver };
        limiter.SetRelease(50, true, 48_000);
        limiter.SetLink(1);
        limiter.Reset();
        return limiter;
    }
}
