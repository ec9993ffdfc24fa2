using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Tests.Albums;

/// <summary>A catalogue with every kind of parameter, independent of how the built-in processors are declared.</summary>
internal static class PlainProcessors
{
    public static ProcessorDescription Equaliser { get; } = new(
        "equaliser",
        "Equaliser",
        1,
        "Changes the balance of low and high.",
        [
            .. Enumerable.Range(1, 12).SelectMany(Band),
            ParameterSpec.Choice("phase", "Phase", ["minimum", "linear"], 0, "How phase follows gain."),
        ],
        ListensToKey: false);

    public static ProcessorDescription Compressor { get; } = new(
        "compressor",
        "Compressor",
        2,
        "Evens out level.",
        [
            new ParameterSpec("thresholdDb", "Threshold", ParameterUnit.Decibels, -80, 0, -20, Taper.Linear, "Where it starts."),
            new ParameterSpec("ratio", "Ratio", ParameterUnit.Ratio, 1, 20, 2, Taper.Logarithmic, "How much it does."),
            new ParameterSpec("stages", "Stages", ParameterUnit.None, 1, 4, 1, Taper.Stepped, "How often it does it."),
            ParameterSpec.Switch("keyHighPassOn", "Key high-pass", false, "Makes the key deaf to bass."),
        ],
        ListensToKey: true);

    public static ProcessorCatalogue Catalogue { get; } = new([() => new PlainProcessor(Equaliser), () => new PlainProcessor(Compressor)]);

    private static IEnumerable<ParameterSpec> Band(int number) =>
    [
        ParameterSpec.Switch($"band{number}.on", $"Band {number} on", false, "Switches the band."),
        ParameterSpec.Choice($"band{number}.shape", $"Band {number} shape", ["bell", "low-shelf", "high-shelf"], 0, "Shape of the band."),
        new ParameterSpec($"band{number}.frequencyHz", $"Band {number} frequency", ParameterUnit.Hertz, 20, 20_000, 1_000, Taper.Logarithmic, "Where it works."),
        new ParameterSpec($"band{number}.gainDb", $"Band {number} gain", ParameterUnit.Decibels, -24, 24, 0, Taper.Linear, "How much it does."),
    ];

    private sealed class PlainProcessor(ProcessorDescription description) : Processor(description)
    {
        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
        }
    }
}
