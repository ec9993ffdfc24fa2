using LiveStems.App.Demo.Score;
using LiveStems.Dsp;
using LiveStems.Processing.Processors.Expander;
using Xunit;

namespace LiveStems.Tests.App.Demo;

/// <summary>The expander on the album's own drums: hats dry up between the strokes, the strokes stay.</summary>
[Collection("Demo sound")]
public class DrumExpanderTests
{
    private const double RangeDb = -12;

    private readonly SongForm form = DemoStems.Form(DemoStems.Lamps);
    private readonly StemSound before = DemoStems.Get(DemoStems.Lamps, "Drums");
    private readonly StemSound after;

    public DrumExpanderTests()
    {
        ExpanderProcessor expander = new();
        foreach ((string id, double value) in new[]
        {
            ("thresholdDb", -22.0), ("ratio", 100), ("rangeDb", RangeDb), ("holdMs", 20), ("releaseMs", 25), ("attackMs", 0.3), ("keyLowPass", 1), ("keyLowPassHz", 350),
        })
        {
            expander.SetParameter(expander.Description.IndexOf(id), value);
        }

        after = DemoStems.Through(before, [expander]);
    }

    // Bars of the chorus have the bass drum at sixteenths 0, 6, 8 and 11, the snare at 4 and 12, and hats alone at 2, 10 and 14:
    // two sixteenths, 288 ms, after the stroke before. Of the range, hold and eight releases later, e⁻⁸ is left.
    [Fact]
    public void HatsBetweenTheStrokesFallByTheRange()
    {
        foreach (double beat in Beats([2, 10, 14]))
        {
            double at = form.SecondsAt(beat);
            double fall = after.Rms(at - 0.005, at + 0.09) - before.Rms(at - 0.005, at + 0.09);
            Assert.True(Math.Abs(fall - RangeDb) < 0.3, $"beat {beat}: {fall:0.00} dB");
        }
    }

    [Fact]
    public void PeaksOfBassDrumAndSnareStay()
    {
        foreach (double beat in Beats([0, 6, 8, 4, 12]))
        {
            double at = form.SecondsAt(beat);
            double change = PeakDb(after, at) - PeakDb(before, at);
            Assert.True(Math.Abs(change) < 0.3, $"beat {beat}: {change:0.00} dB");
        }
    }

    // Bars of the first chorus that are alike; the crash that opens it has died away.
    private IEnumerable<double> Beats(int[] sixteenths) =>
        from bar in new[] { 2, 4 }
        from sixteenth in sixteenths
        select 4.0 * (form["Chorus 1"].FirstBar + bar) + sixteenth / 4.0;

    private static double PeakDb(StemSound sound, double at)
    {
        int first = (int)((at - 0.01) * sound.SampleRate);
        int count = (int)(0.07 * sound.SampleRate);
        return Decibels.FromAmplitude(sound.Channels.Max(channel => channel.AsSpan(first, count).ToArray().Max(Math.Abs)));
    }
}
