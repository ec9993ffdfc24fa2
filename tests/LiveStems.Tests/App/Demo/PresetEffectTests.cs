using LiveStems.Albums.Editing;
using LiveStems.App.Demo.Score;
using LiveStems.Dsp;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Architecture;
using Xunit;
using static LiveStems.Tests.App.Demo.DemoStems;

namespace LiveStems.Tests.App.Demo;

/// <summary>Every preset changes the demo album as its purpose says.</summary>
[Collection("Demo sound")]
public class PresetEffectTests
{
    // For each preset: a stem it is for, what to measure of it, and by how many dB that must at least change, in that direction.
    private static readonly Dictionary<string, Effect> Effects = new()
    {
        ["bass-even-notes"] = new(Rope, "Bass", (stem, _) => Spread(stem, 0.3), -1),
        ["bass-pick-softer"] = new(Lamps, "Bass", (stem, _) => stem.Density(3000, 5000, 20, 40) - stem.Density(200, 600, 20, 40), -4),
        ["bass-tighter"] = new(Rope, "Bass", (stem, form) => Faults.LeftOver(stem, form, 4 * form["Verse"].FirstBar + 7, 2.0 / 3), -3),
        ["bus-air"] = new(Lamps, "", (stem, _) => stem.Density(11_000, 15_000, 20, 50) - stem.Density(200, 400, 20, 50, 8192), 1),
        ["bus-ceiling"] = new(Lamps, "", (stem, _) => Decibels.FromAmplitude(stem.Peak), -1),
        ["bus-together"] = new(Lamps, "", (stem, _) => Spread(stem, 0.4), -0.1),
        ["choir-behind"] = new(Lamps, "Backing voices", (stem, _) => stem.Density(2500, 4000, 30, 45) - stem.Density(600, 1200, 30, 45), -1.5),
        ["drums-hat-ring"] = new(Lamps, "Drums", (stem, form) => Faults.Ring(stem, 7800, form, "Chorus 1"), -5),
        ["drums-low-end-clean"] = new(Lamps, "Drums", (stem, _) => stem.Density(10, 18, 10, 60, 32_768) - stem.Density(50, 90, 10, 60, 32_768), -10),
        ["drums-snare-body"] = new(Dredger, "Drums", (stem, _) => stem.Density(180, 220, 20, 40, 8192) - stem.Density(700, 1400, 20, 40), 1.5),
        ["drums-under-pressed"] = new(Lamps, "Drums", (stem, _) => Spread(stem, 0.1), -6),
        ["effects-both-ends"] = new(Dredger, "Harbour", (stem, _) => stem.Density(10, 22, 10, 60, 32_768) - stem.Density(80, 160, 10, 60, 32_768), -10),
        ["guitar-box-boom"] = new(Rope, "Acoustic guitar", (stem, form) => Over(stem, form, "Verse", (104, 124), (140, 200)), -3),
        ["guitar-glare"] = new(Lamps, "Guitars driven", (stem, form) => Faults.Glare(stem, form, "Chorus 1"), -2),
        ["keys-hiss-above"] = new(Lamps, "Electric piano", (stem, _) => stem.Density(17_000, 19_500, 10, 60) - stem.Density(8000, 11_000, 10, 60), -5),
        ["keys-room-for-voice"] = new(Lamps, "Electric piano", (stem, _) => stem.Density(1500, 2100, 10, 60) - stem.Density(200, 400, 10, 60, 8192), -1.5),
        ["pad-needless-low"] = new(Lamps, "Pad", (stem, _) => stem.Density(16, 29, 10, 60, 32_768) - stem.Density(90, 150, 10, 60, 32_768), -20),
        ["percussion-low-cut"] = new(Dredger, "Percussion", (stem, _) => stem.Density(16, 29, 10, 60, 32_768) - stem.Density(90, 150, 10, 60, 32_768), -20),
        ["strings-edge"] = new(Rope, "Strings", (stem, _) => stem.Density(2500, 3500, 20, 50) - stem.Density(500, 1000, 20, 50), -1.2),
        ["voice-calm-sibilants"] = new(Dredger, "Lead voice", (stem, _) => stem.Density(6500, 8000, 10, 60) - stem.Density(700, 1400, 10, 60), -3),
        ["voice-in-front"] = new(Lamps, "Lead voice", (stem, _) => Spread(stem, 0.4), -0.7),
        ["voice-stand-rumble"] = new(Lamps, "Lead voice", (stem, _) => stem.Density(22, 42, 10, 60, 16_384) - stem.Density(150, 300, 10, 60, 16_384), -20),
        ["voice-thick-low-notes"] = new(Lamps, "Lead voice", (stem, form) => Faults.Thickness(stem, form, "Verse"), -1.5),
    };

    public static TheoryData<string> Presets =>
        [.. Directory.EnumerateFiles(Path.Combine(SourceTree.Root, "presets"), "*.json").Select(path => Path.GetFileNameWithoutExtension(path)!)];

    [Theory]
    [MemberData(nameof(Presets))]
    public void PresetDoesToTheDemoWhatItIsFor(string name)
    {
        Assert.True(Effects.ContainsKey(name), $"no effect of preset {name} is described here");
        Effect effect = Effects[name];
        ChainPreset preset = ChainPreset.Load(Path.Combine(SourceTree.Root, "presets", name + ".json"));
        StemSound before = effect.Stem.Length > 0 ? Get(effect.Song, effect.Stem) : Mix.Value;
        StemSound after = Through(before, preset.Steps.Select(Build));
        double change = effect.Measure(after, Form(effect.Song)) - effect.Measure(before, Form(effect.Song));
        Assert.True(change / effect.LeastDb >= 1, $"{name}: {change:0.00} dB, expected {effect.LeastDb} dB or further");
    }

    // The loudest stems of the opener, one over the other, 6 dB up: enough of a song for what works on a bus.
    private static readonly Lazy<StemSound> Mix = new(() =>
    {
        StemSound[] stems = [.. new[] { "Drums", "Bass", "Guitars driven", "Lead voice" }.Select(name => Get(Lamps, name))];
        return new StemSound([Sum(stems, stem => stem.Left), Sum(stems, stem => stem.Right)], stems[0].SampleRate);
    });

    private static float[] Sum(StemSound[] stems, Func<StemSound, float[]> side)
    {
        float[] sum = new float[stems.Max(stem => side(stem).Length)];
        foreach (StemSound stem in stems)
        {
            float[] channel = side(stem);
            for (int n = 0; n < channel.Length; n++)
            {
                sum[n] += 2 * channel[n];
            }
        }

        return sum;
    }

    private static Processor Build(ChainPreset.Step step)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(step.Processor)!;
        foreach ((string id, string text) in step.Settings)
        {
            int index = processor.Description.IndexOf(id);
            Assert.True(ParameterText.TryParse(processor.Description.Parameters[index], text, out double value, out string fault), fault);
            processor.SetParameter(index, value);
        }

        return processor;
    }

    private static double Over(StemSound stem, SongForm form, string section, (double Low, double High) band, (double Low, double High) beside) =>
        stem.Density(band.Low, band.High, form.StartOf(section), form.EndOf(section), 8192)
        - stem.Density(beside.Low, beside.High, form.StartOf(section), form.EndOf(section), 8192);

    // How far the loud tenth of all stretches of so many seconds stands above the quiet third of those that are no silence.
    private static double Spread(StemSound stem, double seconds)
    {
        List<double> levels = [];
        for (double at = 5; at + seconds < stem.Left.Length / (double)stem.SampleRate; at += seconds)
        {
            levels.Add(stem.Rms(at, at + seconds));
        }

        double loudest = levels.Max();
        double[] heard = [.. levels.Where(level => level > loudest - 30).Order()];
        return heard[9 * heard.Length / 10] - heard[heard.Length / 3];
    }

    private sealed record Effect(int Song, string Stem, Func<StemSound, SongForm, double> Measure, double LeastDb);
}
