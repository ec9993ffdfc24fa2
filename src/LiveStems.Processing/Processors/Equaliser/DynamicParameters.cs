using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>The parameters that let a band's gain move with the sound; offsets among those of the band.</summary>
internal static class DynamicParameters
{
    public const int Dynamic = 6;
    public const int ThresholdDb = 7;
    public const int ThresholdReference = 8;
    public const int Acts = 9;
    public const int RangeDb = 10;
    public const int Ratio = 11;
    public const int KneeDb = 12;
    public const int AttackMs = 13;
    public const int ReleaseMs = 14;
    public const int KeySignal = 15;
    public const int KeyBand = 16;
    public const int KeyFrequencyHz = 17;
    public const int KeyWidthOctaves = 18;
    public const int End = 19;

    public const int RelativeToLongTerm = 1;
    public const int ActsBelow = 1;
    public const int OtherSignal = 1;
    public const int FreeBand = 1;

    /// <summary>The parameters of a band, in the order of the offsets.</summary>
    public static IEnumerable<ParameterSpec> Of(string id, string name, double startFrequency)
    {
        yield return ParameterSpec.Switch(
            $"{id}.dynamic", $"{name} dynamic", false, "Whether the gain of bell, shelf or tilt moves with the sound; passes and notch stand still: for a cut that acts, take a shelf with a range below 0.");
        yield return new(
            $"{id}.thresholdDb", $"{name} threshold", ParameterUnit.Decibels, -80, 24, -24, Taper.Linear,
            "Level of the key band at which the gain begins to move, as the peak of a sine in its centre.");
        yield return ParameterSpec.Choice(
            $"{id}.thresholdReference", $"{name} threshold counts from", ["full-scale", "long-term"], 0,
            "Whether the threshold counts from full scale or from the key band's own level over the last seconds, so that quiet and loud songs are treated alike.");
        yield return ParameterSpec.Choice(
            $"{id}.acts", $"{name} acts", ["above", "below"], 0, "Whether the gain moves while the level is above the threshold or while it is below.");
        yield return new(
            $"{id}.rangeDb", $"{name} range", ParameterUnit.Decibels, -24, 24, -6, Taper.Linear,
            "The most that the gain moves: below 0 the band is taken down, above 0 it is raised.");
        yield return new(
            $"{id}.ratio", $"{name} ratio", ParameterUnit.Ratio, 1, 100, 2, Taper.Logarithmic,
            "How quickly the range is used up: as a compressor's ratio above the threshold, as an expander's below it.");
        yield return new(
            $"{id}.kneeDb", $"{name} knee", ParameterUnit.Decibels, 0, 24, 6, Taper.Linear, "Width of the bend around the threshold.");
        yield return new(
            $"{id}.attackMs", $"{name} attack", ParameterUnit.Milliseconds, 1, 500, 20, Taper.Logarithmic,
            "Time constant with which the gain moves away (63 % of the way); 1.5 periods of the key band come on top.");
        yield return new(
            $"{id}.releaseMs", $"{name} release", ParameterUnit.Milliseconds, 5, 3000, 150, Taper.Logarithmic,
            "Time constant with which the gain moves back (63 % of the way).");
        yield return ParameterSpec.Choice(
            $"{id}.keySignal", $"{name} listens to", ["this-sound", "key"], 0,
            "Whether the band listens to the sound that comes into the equaliser or to the key given to it (another stem).");
        yield return ParameterSpec.Choice(
            $"{id}.keyBand", $"{name} key band", ["own", "set"], 0,
            "Whether the band listens where it acts (a shelf or tilt to all on its side of the frequency) or in a band that is set for it.");
        yield return new(
            $"{id}.keyFrequencyHz", $"{name} key frequency", ParameterUnit.Hertz, 10, 40_000, startFrequency, Taper.Logarithmic,
            "Centre of the key band that is set.");
        yield return new(
            $"{id}.keyWidthOctaves", $"{name} key width", ParameterUnit.Octaves, 0.1, 6, 1, Taper.Logarithmic,
            "Width of the key band that is set, between its −3 dB points.");
    }
}
