using System.Collections.ObjectModel;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>The parameters of the equaliser: the same ones for every band, then those of the whole.</summary>
internal static class EqualiserParameters
{
    public const int Bands = 12;

    public const int On = 0;
    public const int Shape = 1;
    public const int Frequency = 2;
    public const int Gain = 3;
    public const int Q = 4;
    public const int Slope = 5;
    public const int PerBand = DynamicParameters.End;

    public const int OutputGain = Bands * PerBand;
    public const int Phase = OutputGain + 1;
    public const int LinearPhaseLength = OutputGain + 2;

    public const int LinearPhase = 1;

    /// <summary>Nominal length of each linear-phase choice in milliseconds; the nearest power of two of frames is taken.</summary>
    public static readonly double[] LengthMs = [85.3, 170.7, 341.3];

    private static readonly double ButterworthQ = Math.Round(Math.Sqrt(0.5), 4);

    // In the order of FilterShape.
    private static readonly string[] Shapes = ["bell", "low-shelf", "high-shelf", "low-pass", "high-pass", "notch", "tilt"];

    private static readonly string[] Slopes =
        ["6 dB/oct", "12 dB/oct", "18 dB/oct", "24 dB/oct", "30 dB/oct", "36 dB/oct", "42 dB/oct", "48 dB/oct"];

    private static readonly double[] StartFrequencies = [30, 60, 120, 250, 500, 1000, 2000, 4000, 6000, 8000, 12000, 16000];

    /// <summary>Index of a parameter of a band; bands count from 0.</summary>
    public static int Index(int band, int parameter) => band * PerBand + parameter;

    public static IReadOnlyList<ParameterSpec> All { get; } = new ReadOnlyCollection<ParameterSpec>(ListAll());

    private static List<ParameterSpec> ListAll()
    {
        List<ParameterSpec> all = [];
        for (int band = 0; band < Bands; band++)
        {
            all.AddRange(Band(band));
        }

        all.AddRange(Whole());
        return all;
    }

    private static IEnumerable<ParameterSpec> Band(int band)
    {
        string id = $"band{band + 1}";
        string name = $"Band {band + 1}";
        yield return ParameterSpec.Switch($"{id}.on", $"{name} on", band == 0, "Whether the band is heard.");
        yield return ParameterSpec.Choice(
            $"{id}.shape", $"{name} shape", Shapes, band == 0 ? Array.IndexOf(Shapes, "high-pass") : 0, "The shape of the band's response.");
        yield return new(
            $"{id}.frequencyHz", $"{name} frequency", ParameterUnit.Hertz, 10, 40_000, StartFrequencies[band], Taper.Logarithmic,
            "Centre of bell and notch, corner of the passes, half-gain point of the shelves, pivot of the tilt; held below 0.49 of the sample rate.");
        yield return new(
            $"{id}.gainDb", $"{name} gain", ParameterUnit.Decibels, -24, 24, 0, Taper.Linear,
            "How much bell and shelves raise or lower; for the tilt, the top against the bottom.");
        yield return new(
            $"{id}.q", $"{name} Q", ParameterUnit.None, 0.1, 40, ButterworthQ, Taper.Logarithmic,
            "How narrow bell and notch are, how abruptly shelves and tilt turn, and how much 12 dB/oct passes resonate.");
        yield return ParameterSpec.Choice(
            $"{id}.slopeDbPerOctave", $"{name} slope", Slopes, 1, "How steeply low-pass and high-pass fall.");
        foreach (ParameterSpec spec in DynamicParameters.Of(id, name, StartFrequencies[band]))
        {
            yield return spec;
        }
    }

    private static IEnumerable<ParameterSpec> Whole()
    {
        yield return new(
            "outputGainDb", "Output gain", ParameterUnit.Decibels, -24, 24, 0, Taper.Linear, "Level after all bands.");
        yield return ParameterSpec.Choice(
            "phase", "Phase", ["minimum", "linear"], 0,
            "Minimum phase has no latency; linear phase delays all frequencies alike, keeps their wave in shape, and begins to ring before strokes at steep or narrow bands. What a dynamic band moves is minimum phase in both.") with { IsStructural = true };
        yield return ParameterSpec.Choice(
            "linearPhaseLength", "Linear-phase length", ["85 ms", "171 ms", "341 ms"], 2,
            "Length of the linear-phase filter: bands narrower (frequency over Q) than 80, 40 or 20 Hz lose some of their height; the latency is half of it and a partition of 11 ms.") with { IsStructural = true };
    }
}
