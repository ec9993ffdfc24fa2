using LiveStems.Engine.Monitor;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Monitor;

/// <summary>
/// No switch of the monitor adds anything to a steady sine that <see cref="ClickMeter"/> tells from a 10 ms ramp.
/// </summary>
public class MonitorClickTests
{
    private const int SampleRate = 48_000;
    private const int SwitchAt = 40_000;
    private const double LimitDbfs = ClickMeter.LimitDbfs;

    private static readonly float[] Left = TestSignals.Sine(2 * SampleRate, ClickMeter.ToneHz, SampleRate, 0.4);
    private static readonly float[] Right = TestSignals.Sine(2 * SampleRate, ClickMeter.ToneHz, SampleRate, 0.25, 1);

    private static readonly MonitorSettings Band = MonitorRun.Plain with { BandListen = true, BandCentreHz = 300 };

    public static TheoryData<string, MonitorSettings, MonitorSettings> Switches() => new()
    {
        { "dim", MonitorRun.Plain, MonitorRun.Plain with { IsDimmed = true } },
        { "level", MonitorRun.Plain, MonitorRun.Plain with { LevelDb = -60 } },
        { "fair gain", MonitorRun.Plain, MonitorRun.Plain with { FairGainDb = -12 } },
        { "mono", MonitorRun.Plain, MonitorRun.Plain with { Channels = MonitorChannels.Mono } },
        { "side", MonitorRun.Plain, MonitorRun.Plain with { Channels = MonitorChannels.Side } },
        { "swap", MonitorRun.Plain, MonitorRun.Plain with { IsSwapped = true } },
        { "tone", MonitorRun.Plain, MonitorRun.Plain with { Signal = MonitorSignal.Tone } },
        { "band on", MonitorRun.Plain with { BandCentreHz = 300 }, Band },
        { "empty band on", MonitorRun.Plain with { BandCentreHz = 5000 }, Band with { BandCentreHz = 5000 } },
        { "slope", Band, Band with { BandSlopeDbPerOctave = 24 } },
        { "narrow", Band with { BandWidthOctaves = 4 }, Band with { BandWidthOctaves = 1.0 / 12 } },
        { "centre away", Band, Band with { BandCentreHz = 3000 } },
        { "centre onto the sine", Band with { BandCentreHz = 3000 }, Band },
        { "centre by a fifth", Band, Band with { BandCentreHz = 200 } },
    };

    [Theory]
    [MemberData(nameof(Switches))]
    public void SwitchingToAndFroAddsNothingOutsideTheSine(string name, MonitorSettings one, MonitorSettings other)
    {
        double there = WorstDbfs(one, start => start / 64 == SwitchAt / 64 ? other : null);
        double back = WorstDbfs(other, start => start / 64 == SwitchAt / 64 ? one : null);
        Assert.True(Math.Max(there, back) < LimitDbfs, $"{name}: {there:F1} dBFS, back {back:F1} dBFS");
    }

    [Fact]
    public void CeilingLoweredIntoTheSoundAddsNoMoreThanASoundThatSwellsIntoTheCeiling()
    {
        // A limiter at work on a sine makes harmonics. Those of a sine that swells within 10 ms from the ceiling to 12 dB above
        // it are the limiter's own; a ceiling that comes down by 12 dB on the same sine may cost as much, and going back up
        // no more than a switch. The sine's peak is at −7.96 dBFS.
        MonitorSettings high = MonitorRun.Plain with { SafetyCeilingDbfs = -7.96 };
        MonitorSettings low = MonitorRun.Plain with { SafetyCeilingDbfs = -19.96 };
        double swelling = WorstDbfs(high, start => start / 64 == SwitchAt / 64 ? high with { FairGainDb = 12 } : null);
        double lowering = WorstDbfs(high, start => start / 64 == SwitchAt / 64 ? low : null);
        double raising = WorstDbfs(low, start => start / 64 == SwitchAt / 64 ? high : null);
        Assert.InRange(lowering, double.NegativeInfinity, swelling);
        Assert.InRange(raising, double.NegativeInfinity, LimitDbfs);
    }

    [Fact]
    public void SwitchingWithEveryBlockAddsNothingOutsideTheSine()
    {
        MonitorSettings[] choices =
        [
            MonitorRun.Plain, MonitorRun.Plain with { IsDimmed = true }, MonitorRun.Plain with { Channels = MonitorChannels.Side, IsSwapped = true },
            MonitorRun.Plain with { LevelDb = -20, FairGainDb = -6 }, Band, Band with { BandSlopeDbPerOctave = 24, Channels = MonitorChannels.Mono },
        ];
        Random random = new(5);
        double worst = WorstDbfs(MonitorRun.Plain, start => start > 20_000 ? choices[random.Next(choices.Length)] : null);
        Assert.True(worst < LimitDbfs, $"{worst:F1}");
    }

    [Theory]
    [InlineData(4.0)]
    [InlineData(1.0)]
    [InlineData(0.25)]
    public void SweepingTheBandAddsNothingOutsideTheSine(double secondsAnOctave)
    {
        // From 150 to 600 Hz and back by small steps, one a block.
        double worst = WorstDbfs(Band, start =>
        {
            double octaves = start / (secondsAnOctave * SampleRate) % 4;
            return Band with { BandCentreHz = 150 * Math.Pow(2, octaves < 2 ? octaves : 4 - octaves) };
        });
        Assert.True(worst < LimitDbfs, $"{worst:F1}");
    }

    private static double WorstDbfs(MonitorSettings settings, Func<int, MonitorSettings?> post)
    {
        (float[] left, float[] right) = MonitorRun.Through(MonitorRun.With(settings), Left, Right, 64, post);
        return Math.Max(ClickMeter.WorstDbfs(left, SampleRate), ClickMeter.WorstDbfs(right, SampleRate));
    }
}
