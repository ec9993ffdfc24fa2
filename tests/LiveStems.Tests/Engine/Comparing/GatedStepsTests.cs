using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Monitor;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Comparing;

public class GatedStepsTests
{
    private const int SampleRate = 48_000;
    private const int Step = SampleRate / 10;

    [Theory]
    [InlineData(1.0, 1.0)]
    [InlineData(1.0, 0.2)]
    [InlineData(1.0, 0.02)]
    [InlineData(0.001, 0.9)]
    public void LoudnessOfTenthsOfASecondIsThatOfTheMeter(float first, float second)
    {
        // Ten seconds of noise, its level changed once a second to and fro: with and without parts below the relative gate.
        float[] left = Noise.White(10 * SampleRate, 1, 0.3f);
        float[] right = Noise.White(10 * SampleRate, 2, 0.3f);
        for (int i = 0; i < left.Length; i++)
        {
            float level = i / SampleRate % 2 == 0 ? first : second;
            left[i] *= level;
            right[i] *= level;
        }

        KWeightedEnergy energy = new(SampleRate, Step);
        List<double> steps = [];
        for (int start = 0; start < left.Length; start += Step)
        {
            energy.Add(left.AsSpan(start, Step), right.AsSpan(start, Step));
            steps.Add(energy.Take() / Step);
        }

        LoudnessMeter meter = new(SampleRate);
        meter.Add(left, right);

        // The weighting is that of 48 kHz in both; the meter's relative gate lies within 0.001 LU.
        Assert.Equal(meter.IntegratedLufs, GatedSteps.Lufs([.. steps]), 0.005);
    }

    [Fact]
    public void SilenceHasNoLoudnessAndNoFairGain()
    {
        Assert.Equal(double.NegativeInfinity, GatedSteps.Lufs(new double[50]));
        FairGain gain = FairGain.For(double.NegativeInfinity, -20);
        Assert.False(gain.IsMeasured);
        Assert.Equal((0.0, 0.0), (gain.InDb, gain.OutDb));
        Assert.True(double.IsNaN(gain.DifferenceLu));
    }

    [Fact]
    public void LouderSideIsTurnedDownAndNeverTheOtherUp()
    {
        Assert.Equal((0.0, -3.0), (FairGain.For(-20, -17).InDb, FairGain.For(-20, -17).OutDb));
        Assert.Equal((-3.0, 0.0), (FairGain.For(-17, -20).InDb, FairGain.For(-17, -20).OutDb));
        Assert.Equal(-FairGain.LargestCutDb, FairGain.For(-70, -10).OutDb);
    }
}
