using LiveStems.Processing.Processors.Compressor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Compressor;

public class TimingTests
{
    private const int SampleRate = 48_000;

    [Fact]
    public void AStepUpIsFollowedWithTheSetAttack()
    {
        // Common practice: a constant amplitude steps; the gain in dB covers 63.2 % in τ, to within a sample.
        double[] gainDb = Step(0.1, 1, ("attackMs", 20));
        int frames = Array.FindIndex(gainDb, 24_000, value => value <= -15 * (1 - Math.Exp(-1))) - 24_000 + 1;
        Assert.InRange(frames, 959, 961);
    }

    [Fact]
    public void AStepDownIsLetGoWithReleaseAndAttackTogether()
    {
        // REFERENCES 5.2: smooth decoupled, 10 and 100 ms: to 36.8 % in 110.52 ms.
        double[] gainDb = Step(1, 0.1, ("attackMs", 10), ("releaseMs", 100));
        int frames = Array.FindIndex(gainDb, 24_000, value => value >= -15 * Math.Exp(-1)) - 24_000 + 1;
        Assert.Equal(110.52, frames / 48.0, 0.03);
    }

    [Fact]
    public void InFeedBackTheAttackIsRatioTimesQuicker()
    {
        double[] gainDb = Step(0.1, 1, ("attackMs", 20), ("topology", 1));
        int frames = Array.FindIndex(gainDb, 24_000, value => value <= -15 * (1 - Math.Exp(-1))) - 24_000 + 1;
        Assert.Equal(20 / 4.0, frames / 48.0, 0.1);
    }

    [Fact]
    public void ProgrammeDependentReleaseRemembersALongPassage()
    {
        double[] plain = Step(1, 0.1, ("attackMs", 1), ("releaseMs", 50));
        double[] adaptive = Step(1, 0.1, ("attackMs", 1), ("releaseMs", 50), ("autoRelease", 1));

        // 300 ms after the passage: e^−6 of 15 dB against most of what half a second had charged (1 − e^−1.25 = 71 %),
        // less 300 ms of discharge at 600 ms (e^−0.5 = 61 %).
        Assert.InRange(plain[24_000 + 14_400], -0.2, 0);
        Assert.InRange(adaptive[24_000 + 14_400], -8.5, -6);
    }

    [Fact]
    public void ChangingTheTopologyDoesNotJump()
    {
        float[] square = TestSignals.Square(SampleRate, 48);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(SampleRate, ("thresholdDb", -20), ("ratio", 4), ("attackMs", 20));
        float[] output = [];
        for (int part = 0; part < 4; part++)
        {
            compressor.SetParameter(compressor.Description.IndexOf("topology"), part % 2);
            output = [.. output, .. ProcessorRun.Through(compressor, square[..12_000], square[..12_000]).Left];
        }

        for (int n = 12_000; n < output.Length; n++)
        {
            Assert.Equal(Math.Abs(output[n - 1]), Math.Abs(output[n]), 1e-4);
        }
    }

    private static double[] Step(double before, double after, params (string, double)[] settings)
    {
        float[] signal = [.. TestSignals.Square(24_000, 48, before), .. TestSignals.Square(24_000, 48, after)];
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            SampleRate, [("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0), .. settings]);
        (float[] left, _) = ProcessorRun.Through(compressor, signal, signal);
        return [.. left.Select((x, n) => 20 * Math.Log10(x / signal[n]))];
    }
}
