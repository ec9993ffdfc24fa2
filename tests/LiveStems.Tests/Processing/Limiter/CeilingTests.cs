using LiveStems.Processing.Processors.Limiter;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Limiter;

public class CeilingTests
{
    private const int SampleRate = 48_000;
    private const int Frames = 24_000;

    public static TheoryData<string, double> Tortures()
    {
        TheoryData<string, double> cases = [];
        foreach (string name in Signals.Keys)
        {
            foreach (double drive in new[] { 0.0, 6, 18 })
            {
                cases.Add(name, drive);
            }
        }

        return cases;
    }

    private static readonly Dictionary<string, Func<float[]>> Signals = new()
    {
        ["music-like noise"] = () => TestSignals.MusicLike(Frames, 1, 2),
        ["square wave of 100 Hz"] = () => TestSignals.Square(Frames, 480),
        ["square wave of 3.1 kHz"] = () => TestSignals.Square(Frames, 15.5),
        ["quarter-rate sine at 45 degrees"] = () => TestSignals.Sine(Frames, SampleRate / 4.0, SampleRate, 1.4142, Math.PI / 4),
        ["gated quarter-rate sine at 45 degrees"] = () => TestSignals.Gated(TestSignals.Sine(Frames, SampleRate / 4.0, SampleRate, 1.4142, Math.PI / 4), 700, 900),
        ["clicks"] = () => TestSignals.Clicks(Frames, 777, 4),
        ["dense clicks"] = () => TestSignals.Clicks(Frames, 37, 4),
        ["random walk"] = () => TestSignals.RandomWalk(Frames, 2, 0.3, 2),
        ["white noise"] = () => TestSignals.WhiteNoise(Frames, 3),
        ["gated white noise"] = () => TestSignals.Gated(TestSignals.WhiteNoise(Frames, 4), 300, 1200),
        ["sweep to 20 kHz"] = () => TestSignals.Sweep(Frames, 20, 20_000, SampleRate),
        ["sweep to 23.9 kHz"] = () => TestSignals.Sweep(Frames, 15000, 23_900, SampleRate),
        ["bursts of 1 kHz"] = () => TestSignals.Gated(TestSignals.Sine(Frames, 1000, SampleRate, 3), 500, 1500),
        ["bursts of 15 kHz"] = () => TestSignals.Gated(TestSignals.Sine(Frames, 15000, SampleRate, 3), 500, 1500),
        ["turning alternation, 16"] = () => TestSignals.TurningAlternation(Frames, 16),
        ["turning alternation, 41"] = () => TestSignals.TurningAlternation(Frames, 41),
        ["turning alternation, 101"] = () => TestSignals.TurningAlternation(Frames, 101),
        ["turning alternation, 500"] = () => TestSignals.TurningAlternation(Frames, 500),
        ["turning alternation, 4000"] = () => TestSignals.TurningAlternation(Frames, 4000),
        ["random signs"] = () => TestSignals.RandomSigns(Frames, 5),
    };

    [Theory]
    [MemberData(nameof(Tortures))]
    public void TruePeakNeverPassesTheCeiling(string name, double driveDb)
    {
        // A file that ends at full level rings behind its last sample; silence lets the limiter see that end.
        float[] signal = [.. Signals[name](), .. new float[2048]];
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("inputGainDb", driveDb));
        (float[] left, float[] _) = ProcessorRun.Through(limiter, signal, signal);
        double peak = SixteenfoldPeakMeter.PeakDbtp(left);
        TestContext.Current.TestOutputHelper!.WriteLine($"{name} {driveDb} dB: {peak + 1:0.000} dB re ceiling");
        Assert.True(peak <= -1 + 0.1, $"{name} at {driveDb} dB: {peak:0.000} dBTP");
    }
}
