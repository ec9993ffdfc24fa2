using LiveStems.Dsp;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.App.Demo;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>A new processor does something at once, and not much.</summary>
[Collection("Demo sound")]
public class DefaultsNet
{
    // Beside the sound: below −6 dB it is still that sound, above −70 dB the change can be heard. Limiter and soft clipper are
    // for what passes full scale, and are given such.
    [Theory]
    [InlineData("compressor", "Lead voice")]
    [InlineData("de-esser", "Lead voice")]
    [InlineData("equaliser", "Lead voice")]
    [InlineData("expander", "Drums")]
    [InlineData("resonance-suppressor", "Drums")]
    [InlineData("room", "Lead voice")]
    [InlineData("saturator", "Bass")]
    [InlineData("limiter", "Drums", 3.0)]
    [InlineData("soft-clipper", "Drums", 3.0)]
    [InlineData("transient-shaper", "Drums")]
    [InlineData("width", "Pad")]
    public void DefaultsAreMildAndAudible(string id, string stem, double? peakDbfs = null)
    {
        StemSound before = DemoStems.Get(DemoStems.Lamps, stem);
        if (peakDbfs is { } peak)
        {
            float gain = (float)(Decibels.ToAmplitude(peak) / before.Peak);
            before = new StemSound([.. before.Channels.Select(channel => channel.Select(sample => gain * sample).ToArray())], before.SampleRate);
        }

        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        StemSound after = DemoStems.Through(before, [processor]);
        double power = 0, difference = 0;
        for (int n = 10 * before.SampleRate; n < 60 * before.SampleRate; n++)
        {
            power += (double)before.Left[n] * before.Left[n];
            difference += Math.Pow((double)after.Left[n] - before.Left[n], 2);
        }

        double levelDb = Decibels.FromPower(difference / power);
        TestContext.Current.TestOutputHelper!.WriteLine($"{id}: the difference lies {levelDb:0.0} dB beside {stem}");
        Assert.InRange(levelDb, -70, -6);
    }
}
