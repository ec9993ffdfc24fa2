using LiveStems.Analysis.Trouble;
using LiveStems.App.Demo;

namespace LiveStems.Bench.Planted;

/// <summary>Plants resonances in material, searches, and compares.</summary>
internal sealed class PlantedRun(Random random)
{
    public const double LowestHz = 200;
    public const double HighestHz = 12_000;
    public const double ShortestGateSeconds = 6;
    public const double LongestGateSeconds = 12;

    /// <summary>A bell's gain, dB, and how much a band may stand out by itself.</summary>
    private const double LeastDb = 6;
    private const double MostDb = 12;
    private const double MostOfItsOwnDb = 3;
    private const double RingAboveOwnDb = 3;
    private const double LeastHeardShare = 0.5;
    private const double InaudibleBelowDb = 35;
    private const double SurplusToleranceDb = 0.5;
    private const int MostTries = 400;
    private const double CentreOctaves = 1.0 / 12;
    private const double TimeOverlap = 0.8;
    private const double AsFaultOctaves = 1.0 / 6;

    /// <summary>One planted resonance and what became of it.</summary>
    public sealed record Outcome(string Material, Planting Planting, TroubleFinding? Finding, double CentreOctaves, double Overlap)
    {
        public bool IsFound => Finding is not null;

        public bool IsTimed => Overlap >= TimeOverlap;
    }

    /// <summary>A planted resonance, the sound with it, and when it is heard.</summary>
    public sealed record Planting(PlantedResonance Resonance, double GainDb, float[][] Sound, PlantedMeasure Measure, bool[] Heard, double HeardShare);

    /// <summary>What a search finds in sound.</summary>
    public static TroubleReport Search(PlantedMaterial material, float[][] sound)
    {
        TroubleSearch search = new(material.SampleRate, new TroubleSettings(material.Role));
        search.Add(sound[0], sound[^1]);
        return search.Finish();
    }

    /// <summary>
    /// Plants a resonance at random: drawn again where the band is silent, stands out by itself, or does not ring in half of
    /// the stated times; null when there is no such place.
    /// </summary>
    public Planting? Plant(PlantedMaterial material, PlantedForm form, bool isSteady)
    {
        double loudest = material.Spectrum.LoudestPerOctaveDb();
        for (int tries = 0; tries < MostTries; tries++)
        {
            double frequency = LowestHz * Math.Pow(HighestHz / LowestHz, random.NextDouble());
            double surplus = LeastDb + (MostDb - LeastDb) * random.NextDouble();
            double q = 8 * Math.Pow(25.0 / 8, random.NextDouble());
            IReadOnlyList<TimeRange> ranges = isSteady ? [new TimeRange(0, material.Seconds)] : Gates(material.Seconds);
            PlantedResonance drawn = new(form, frequency, surplus, q, ranges, isSteady);
            PlantedMeasure measure = new(material.Spectrum, drawn);
            double needed = surplus - measure.OwnDb;
            bool fits = measure.StatedSeconds >= ShortestGateSeconds / 2
                && measure.OwnDb <= MostOfItsOwnDb && measure.OwnElsewhereDb <= MostOfItsOwnDb
                && measure.TrendPerOctaveDb > loudest - InaudibleBelowDb
                && (form == PlantedForm.Bell ? needed is >= LeastDb and <= MostDb : needed > RingAboveOwnDb);
            if (fits && Planted(material, drawn, measure) is { } planting)
            {
                return planting;
            }
        }

        return null;
    }

    /// <summary>Searches for a planted resonance.</summary>
    public static (Outcome Outcome, TroubleReport Report) Search(PlantedMaterial material, Planting planting)
    {
        TroubleReport report = Search(material, planting.Sound);
        TroubleFinding? nearest = report.Findings
            .Where(finding => Math.Abs(Math.Log2(finding.CentreHz / planting.Resonance.FrequencyHz)) <= CentreOctaves)
            .OrderByDescending(finding => planting.Measure.Overlap(finding.Ranges, planting.Heard))
            .FirstOrDefault();
        return nearest is null
            ? (new Outcome(material.Name, planting, null, double.NaN, 0), report)
            : (new Outcome(
                material.Name,
                planting,
                nearest,
                Math.Abs(Math.Log2(nearest.CentreHz / planting.Resonance.FrequencyHz)),
                planting.Measure.Overlap(nearest.Ranges, planting.Heard)), report);
    }

    /// <summary>Findings that neither the planted resonance nor a fault of the demo's notes explains.</summary>
    public static IEnumerable<TroubleFinding> False(TroubleReport report, PlantedMaterial material, PlantedResonance? planted) => report.Findings
        .Where(finding => planted is null || Math.Abs(Math.Log2(finding.CentreHz / planted.FrequencyHz)) > 4 * CentreOctaves)
        .Where(finding => !material.Faults.Any(fault => Explains(fault, finding)));

    /// <summary>True when a fault of the notes and a finding mean the same: bands and times touch.</summary>
    public static bool Explains(DemoFault fault, TroubleFinding finding) =>
        finding.LowHz < fault.HighHz * Math.Pow(2, AsFaultOctaves)
        && finding.HighHz > fault.LowHz * Math.Pow(2, -AsFaultOctaves)
        && finding.Ranges.Any(range => range.StartSeconds < fault.EndSeconds && range.EndSeconds > fault.StartSeconds);

    private Planting? Planted(PlantedMaterial material, PlantedResonance drawn, PlantedMeasure measure)
    {
        float[][] added = drawn.Added(material.Sound, material.SampleRate, random);
        double gain = drawn.Form == PlantedForm.Bell
            ? Math.Pow(10, (drawn.SurplusDb - measure.OwnDb) / 20) - 1
            : Math.Sqrt((measure.PowerFor(drawn.SurplusDb) - measure.OwnPower) / Math.Max(1e-30, measure.Stated(measure.PowersOf(added, material.SampleRate))));
        float[][] sound = Mixed(material.Sound, added, gain);
        double[] powers = measure.PowersOf(sound, material.SampleRate);

        // Slopes of a bell beside partials off its middle, and the edges of gates, move the surplus: a second step sets it right.
        double off = drawn.SurplusDb - measure.SurplusDb(powers);
        if (Math.Abs(off) > SurplusToleranceDb)
        {
            gain *= Math.Pow(10, off / 20);
            sound = Mixed(material.Sound, added, gain);
            powers = measure.PowersOf(sound, material.SampleRate);
        }

        bool[] heard = measure.Heard(powers);
        double share = measure.HeardShare(heard);
        double gainDb = 20 * Math.Log10(1 + gain);
        bool isAsDrawn = Math.Abs(drawn.SurplusDb - measure.SurplusDb(powers)) <= 2 * SurplusToleranceDb;
        return isAsDrawn && share >= LeastHeardShare && (drawn.Form == PlantedForm.Ring || gainDb <= MostDb + 1)
            ? new Planting(drawn, gainDb, sound, measure, heard, share)
            : null;
    }

    private static float[][] Mixed(float[][] sound, float[][] added, double gain) =>
        [.. sound.Select((channel, side) =>
        {
            float[] mixed = new float[channel.Length];
            for (int n = 0; n < mixed.Length; n++)
            {
                mixed[n] = (float)(channel[n] + gain * added[side][n]);
            }

            return mixed;
        })];

    private List<TimeRange> Gates(double seconds)
    {
        List<TimeRange> gates = [];
        int wanted = random.Next(1, 4);
        for (int tries = 0; tries < 60 && gates.Count < wanted; tries++)
        {
            double length = Math.Min(seconds / 2, ShortestGateSeconds + (LongestGateSeconds - ShortestGateSeconds) * random.NextDouble());
            double start = random.NextDouble() * (seconds - length);
            if (gates.TrueForAll(gate => start > gate.EndSeconds + 4 || start + length < gate.StartSeconds - 4))
            {
                gates.Add(new TimeRange(start, start + length));
            }
        }

        return [.. gates.OrderBy(gate => gate.StartSeconds)];
    }
}
