using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Signals;

public class ClickMeterTests
{
    private const int SampleRate = 48_000;
    private const int Ramp = SampleRate / 100;
    private const int RampStart = 20_011;

    // The sine has a period of 192 frames and its crests at 48, 240, …, 20016.
    private const double AtACrest = (20_016.0 - RampStart) / Ramp;

    [Fact]
    public void IdealRampOfTenMillisecondsPasses() =>
        Assert.InRange(Worst(t => t <= 0 ? 1 : t >= 1 ? 0 : 0.5 + (0.5 * Math.Cos(Math.PI * t))), -200, ClickMeter.LimitDbfs - 10);

    [Fact]
    public void StepFails() => Assert.InRange(Worst(t => t < AtACrest ? 1 : 0), ClickMeter.LimitDbfs + 30, 0);

    [Fact]
    public void StepOfATwentiethOfTheSineFails() => Assert.InRange(Worst(t => t < AtACrest ? 1 : 0.95), ClickMeter.LimitDbfs, 0);

    [Fact]
    public void RampOfOneMillisecondFails() => Assert.InRange(Worst(t => 1 - Math.Clamp(t * 10, 0, 1)), ClickMeter.LimitDbfs, 0);

    // A sine of 0.4 whose gain goes by a curve of time in ramps of 10 ms.
    private static double Worst(Func<double, double> gain)
    {
        float[] sine = TestSignals.Sine(SampleRate, ClickMeter.ToneHz, SampleRate, 0.4);
        for (int i = 0; i < sine.Length; i++)
        {
            sine[i] *= (float)gain(((double)i - RampStart) / Ramp);
        }

        return ClickMeter.WorstDbfs(sine);
    }
}
