using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

public class KWeightedPairTests
{
    [Theory]
    [InlineData(8_000)]
    [InlineData(48_000)]
    [InlineData(384_000)]
    public void EnergyAgreesWithAPlainScalarFilterAtAnyLength(int sampleRate)
    {
        (float[] left, float[] right) = MovingNoise.Make(sampleRate, 0.1, 1);
        double[] leftWeighted = LoudnessOracle.Weighted(sampleRate, left);
        double[] rightWeighted = LoudnessOracle.Weighted(sampleRate, right);
        double expected = 0;
        for (int length = 1; length <= 67; length++)
        {
            KWeightedPair pair = new(new KWeighting(sampleRate), 1, 1.41);
            pair.Add(left.AsSpan(0, length), right.AsSpan(0, length));
            double l = leftWeighted[length - 1], r = rightWeighted[length - 1];
            expected += l * l + 1.41 * r * r;

            // The two forms round differently; the double zero at 0 Hz magnifies that by less than (fs / 2π 38 Hz)².
            Assert.Equal(1, pair.TakeEnergy() / expected, 1e-9);
        }
    }

    [Fact]
    public void TakingTheEnergyStartsTheNextSum()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.1, 2);
        KWeightedPair pair = new(new KWeighting(48_000), 1, 1);
        pair.Add(left, right);
        Assert.True(pair.TakeEnergy() > 0);
        Assert.Equal(0, pair.TakeEnergy());
    }

    [Fact]
    public void StateDiesAwayToZeroInSilence()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.1, 3);
        KWeightedPair pair = new(new KWeighting(48_000), 1, 1);
        pair.Add(left, right);
        float[] silence = new float[480];
        double energy = 1;
        for (int step = 0; step < 200; step++)
        {
            pair.Add(silence, silence);
            energy = pair.TakeEnergy();
        }

        Assert.Equal(0, energy);
    }

    [Theory]
    [InlineData(float.NaN)]
    [InlineData(float.PositiveInfinity)]
    [InlineData(float.NegativeInfinity)]
    public void ASampleThatIsNotFiniteLeavesNoTraceAfterItsStep(float bad)
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.1, 4);
        KWeightedPair pair = new(new KWeighting(48_000), 1, 1);
        pair.Add(left, right);
        pair.Add([bad], [0]);
        Assert.Equal(0, pair.TakeEnergy());

        KWeightedPair fresh = new(new KWeighting(48_000), 1, 1);
        pair.Add(left, right);
        fresh.Add(left, right);
        Assert.Equal(fresh.TakeEnergy(), pair.TakeEnergy());
    }
}
