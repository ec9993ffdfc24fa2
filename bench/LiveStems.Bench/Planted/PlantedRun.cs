using LiveStems.Analysis.Trouble;
using LiveStems.App.Demo;

namespace LiveStems.Bench.Planted;

/// <summary>Plants resonances in material, searches, and compares.</summary>
internal sealed class PlantedRun(Random random)
{
    public const double LowestHz = 200;
    public const double HighestHz = 12_000;
    private const double CentreOctaves = 1.0 / 12;
    private const double TimeOverlap = 0.8;
    private const double AsFaultOctaves = 1.0 / 6;

    /// <summary>One planted resonance and what became of it.</summary>
    public sealed record Outcome(string Material, PlantedResonance Planted, TroubleFinding? Finding, double CentreOctaves, double Overlap, bool IsAudible)
    {
        public bool IsFound => Finding is not null;

        public bool IsTimed => Overlap >= TimeOverlap;
    }

    /// <summary>What a search finds in sound.</summary>
    public static TroubleReport Search(PlantedMaterial material, float[][] sound)
    {
        TroubleSearch search = new(material.SampleRate, new TroubleSettings(material.Role));
        search.Add(sound[0], sound[^1]);
        return search.Finish();
    }

    /// <summary>A random resonance where the material sounds.</summary>
    public PlantedResonance Draw(PlantedMaterial material, PlantedForm form, bool isSteady)
    {
        PlantedResonance drawn;
        int tries = 0;
        do
        {
            double frequency = LowestHz * Math.Pow(HighestHz / LowestHz, random.NextDouble());
            double rise = 6 + 6 * random.NextDouble();
            double q = 8 * Math.Pow(25.0 / 8, random.NextDouble());
            IReadOnlyList<TimeRange> ranges = isSteady ? [new TimeRange(0, material.Seconds)] : Gates(material.Seconds);
            drawn = new PlantedResonance(form, frequency, rise, q, ranges, isSteady);
        }
        while (!material.SoundsAt(drawn.FrequencyHz, Open(material, drawn)) && ++tries < 50);
        return drawn;
    }

    /// <summary>Plants one and searches.</summary>
    public (Outcome Outcome, TroubleReport Report) Plant(PlantedMaterial material, PlantedResonance planted)
    {
        float[][] sound = planted.PlantIn(material.Sound, material.SampleRate, random);
        bool isAudible = PlantedAudibility.IsAudible(sound, material.SampleRate, planted);
        TroubleReport report = Search(material, sound);
        TroubleFinding? nearest = report.Findings
            .Where(finding => Math.Abs(Math.Log2(finding.CentreHz / planted.FrequencyHz)) <= CentreOctaves)
            .OrderByDescending(finding => Overlap(material, finding.Ranges, planted.Ranges))
            .FirstOrDefault();
        return nearest is null
            ? (new Outcome(material.Name, planted, null, double.NaN, 0, isAudible), report)
            : (new Outcome(material.Name, planted, nearest, Math.Abs(Math.Log2(nearest.CentreHz / planted.FrequencyHz)), Overlap(material, nearest.Ranges, planted.Ranges), isAudible), report);
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

    /// <summary>Of the time in which the material sounds: length of what two sets of stretches share over the length of what either covers.</summary>
    public static double Overlap(PlantedMaterial material, IReadOnlyList<TimeRange> found, IReadOnlyList<TimeRange> planted)
    {
        int shared = 0;
        int either = 0;
        for (int step = 0; step < material.Sounding.Length; step++)
        {
            double at = (step + 0.5) * PlantedMaterial.StepSeconds;
            bool isFound = found.Any(range => range.StartSeconds <= at && at < range.EndSeconds);
            bool isPlanted = planted.Any(range => range.StartSeconds <= at && at < range.EndSeconds);
            shared += material.Sounding[step] && isFound && isPlanted ? 1 : 0;
            either += material.Sounding[step] && (isFound || isPlanted) ? 1 : 0;
        }

        return either > 0 ? (double)shared / either : 0;
    }

    private List<TimeRange> Gates(double seconds)
    {
        List<TimeRange> gates = [];
        int wanted = random.Next(1, 4);
        for (int tries = 0; tries < 60 && gates.Count < wanted; tries++)
        {
            double length = Math.Min(seconds / 2, 4 + 6 * random.NextDouble());
            double start = random.NextDouble() * (seconds - length);
            if (gates.TrueForAll(gate => start > gate.EndSeconds + 4 || start + length < gate.StartSeconds - 4))
            {
                gates.Add(new TimeRange(start, start + length));
            }
        }

        return [.. gates.OrderBy(gate => gate.StartSeconds)];
    }

    private static float[] Open(PlantedMaterial material, PlantedResonance planted)
    {
        float[] open = new float[material.Sound[0].Length];
        foreach (TimeRange range in planted.Ranges)
        {
            int start = (int)(range.StartSeconds * material.SampleRate);
            int end = Math.Min(open.Length, (int)(range.EndSeconds * material.SampleRate));
            open.AsSpan(start, end - start).Fill(1);
        }

        return open;
    }
}
