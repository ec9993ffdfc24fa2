using LiveStems.Analysis.Trouble;

namespace LiveStems.Bench.Planted;

/// <summary>
/// Recall and false findings of the harshness search, as a table: random resonances over pink noise and over the demo's stems.
/// </summary>
internal static class PlantedResonances
{
    private const int PinkRounds = 24;
    private const double PinkSeconds = 40;

    public static void Run(string[] arguments)
    {
        int seed = Seed(arguments);
        bool verbose = arguments.Contains("--verbose");
        int rounds = Number(arguments, "--rounds", 2);
        Console.WriteLine($"seed {seed}: frequency {PlantedRun.LowestHz:0} Hz to {PlantedRun.HighestHz / 1000:0} kHz, Q 8 to 25, steady or in 1 to 3 stretches of {PlantedRun.ShortestGateSeconds:0} to {PlantedRun.LongestGateSeconds:0} s");
        Console.WriteLine("planted so that the resonance's band stands +6 to +12 dB above the unplanted stem's own trend (course along the peaks, half an octave around) during the stated times, and by half of that for at least half of them; a bell has +6 to +12 dB of gain; drawn again where the band is silent or stands out by itself");
        PlantedRun run = new(new Random(seed));
        Random noise = new(seed + 1);
        PlantedTable table = new();
        for (int round = 0; round < PinkRounds; round++)
        {
            Try(run, PlantedMaterial.Pink(PinkSeconds, noise), (PlantedForm)(round % 4 / 2), round % 2 == 0, "pink noise", table, verbose);
        }

        Untouched untouched = new();
        int count = 0;
        foreach (PlantedMaterial stem in PlantedMaterial.DemoStems())
        {
            for (int round = 0; round < rounds; round++)
            {
                bool isSteady = (round + count) % 2 == 0;
                Try(run, stem, PlantedForm.Ring, isSteady, "demo stems", table, verbose);
                Try(run, stem, PlantedForm.Bell, !isSteady, "demo stems", table, verbose);
            }

            count++;

            stem.Forget();
            untouched.Search(stem, verbose);
        }

        table.Write(Console.Out);
        untouched.Write();
    }

    private static void Try(PlantedRun run, PlantedMaterial material, PlantedForm form, bool isSteady, string group, PlantedTable table, bool verbose)
    {
        if (run.Plant(material, form, isSteady) is not { } planting)
        {
            Console.WriteLine($"  {material.Name}: no place for a {(isSteady ? "steady" : "gated")} {form}");
            return;
        }

        PlantedResonance planted = planting.Resonance;
        (PlantedRun.Outcome outcome, TroubleReport report) = PlantedRun.Search(material, planting);
        table.Add($"{group}, {(form == PlantedForm.Ring ? "ring" : "bell")}, {(isSteady ? "steady" : "gated")}", outcome, PlantedRun.False(report, material, planted).Count());
        if (verbose && (!outcome.IsFound || !outcome.IsTimed))
        {
            Console.WriteLine($"  {(outcome.IsFound ? $"timed {outcome.Overlap:0.00}" : "missed")}: {material.Name}: {form} {(isSteady ? "steady" : "gated")} {planted.FrequencyHz:0} Hz +{planted.SurplusDb:0.0} dB (gain {planting.GainDb:0.0} dB) Q {planted.Q:0}, heard {planting.HeardShare:0.00}");
        }

        foreach (TroubleFinding finding in verbose ? PlantedRun.False(report, material, planted) : [])
        {
            Console.WriteLine($"  {material.Name}: FALSE {finding.Kind} {finding.CentreHz:0} Hz {finding.SurplusDb:0.0} dB {finding.ShareOfTime:0.00} {finding.Occurrence}");
        }
    }

    private static int Seed(string[] arguments)
    {
        int given = Number(arguments, "--seed", -1);
        return given >= 0 ? given : Random.Shared.Next(1_000_000);
    }

    private static int Number(string[] arguments, string name, int otherwise)
    {
        int at = Array.IndexOf(arguments, name);
        return at >= 0 && at + 1 < arguments.Length && int.TryParse(arguments[at + 1], out int number) ? number : otherwise;
    }
}
