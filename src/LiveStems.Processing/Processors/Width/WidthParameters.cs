using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Width;

/// <summary>The width processor's parameters, in the order of their indices.</summary>
internal static class WidthParameters
{
    public const int LowPercent = 0;
    public const int MiddlePercent = 1;
    public const int HighPercent = 2;
    public const int LowCrossoverHz = 3;
    public const int HighCrossoverHz = 4;
    public const int MonoBelowOn = 5;
    public const int MonoBelowHz = 6;
    public const int LowestCorrelation = 7;

    public static readonly ProcessorDescription Description = new(
        "width",
        "Width",
        1,
        "Makes a stem wider or narrower, band by band, and never changes what is heard in mono.",
        [
            new("lowPercent", "Low width", ParameterUnit.Percent, 0, 200, 80, Taper.Linear, "Level of the side below the low crossover; 0 % is mono, 100 % as it was."),
            new("middlePercent", "Middle width", ParameterUnit.Percent, 0, 200, 100, Taper.Linear, "Level of the side between the crossovers; 0 % is mono (−60 dB), 100 % as it was."),
            new("highPercent", "High width", ParameterUnit.Percent, 0, 200, 125, Taper.Linear, "Level of the side above the high crossover; 0 % is mono, 100 % as it was."),
            new("lowCrossoverHz", "Low crossover", ParameterUnit.Hertz, 50, 1000, 250, Taper.Logarithmic, "Between low and middle, 24 dB/oct."),
            new("highCrossoverHz", "High crossover", ParameterUnit.Hertz, 1000, 16_000, 4000, Taper.Logarithmic, "Between middle and high, 24 dB/oct."),
            ParameterSpec.Switch("monoBelow", "Mono below", false, "Takes the side away below a frequency."),
            new("monoBelowHz", "Mono below frequency", ParameterUnit.Hertz, 20, 500, 100, Taper.Logarithmic, "Where the side is 6 dB down, 24 dB/oct below."),
            new("lowestCorrelation", "Lowest correlation", ParameterUnit.None, -1, 0.9, -0.3, Taper.Linear, "The side comes down, by 24 dB at most, where left and right would correlate less than this; −1 never acts."),
        ],
        ListensToKey: false);
}
