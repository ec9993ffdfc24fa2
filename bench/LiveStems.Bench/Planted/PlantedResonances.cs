using System.Diagnostics;
using LiveStems.Analysis.Trouble;
using LiveStems.App.Demo;

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
        Console.WriteLine($"seed {seed}: frequency {PlantedRun.LowestHz:0} Hz to {PlantedRun.HighestHz / 1000:0} kHz, +6 to +12 dB, Q 8 to 25, steady or in 1 to 3 stretches of 4 to 10 s");
        Console.WriteLine($"audible: with it, its auditory band lies within {PlantedAudibility.BelowLoudestDb:0} dB of the stem's loudest and {PlantedAudibility.AboveTrendDb:0} dB above the line through the bands 1.5 to 4 ERB around; centre and times are judged on audible ones");
        PlantedRun run = new(new Random(seed));
        Random noise = new(seed + 1);
        PlantedTable table = new();
        List<PlantedMaterial> stems = [.. PlantedMaterial.DemoStems()];
        for (int round = 0; round < PinkRounds; round++)
        {
            PlantedMaterial pink = PlantedMaterial.Pink(PinkSeconds, noise);
            Try(run, pink, (PlantedForm)(round % 4 / 2), round % 2 == 0, "pink noise", table, verbose);
        }

        for (int round = 0; round < rounds; round++)
        {
            foreach (PlantedMaterial stem in stems)
            {
                Try(run, stem, PlantedForm.Ring, round % 2 == 0, "demo stems", table, verbose);
                Try(run, stem, PlantedForm.Bell, round % 2 == 0, "demo stems", table, verbose);
            }
        }

        table.Write(Console.Out);
        WriteUntouched(stems, verbose);
    }

    private static void Try(PlantedRun run, PlantedMaterial material, PlantedForm form, bool isSteady, string group, PlantedTable table, bool verbose)
    {
        PlantedResonance planted = run.Draw(material, form, isSteady);
        (PlantedRun.Outcome outcome, TroubleReport report) = run.Plant(material, planted);
        table.Add($"{group}, {(form == PlantedForm.Ring ? "ring" : "bell")}, {(isSteady ? "steady" : "gated")}", outcome, PlantedRun.False(report, material, planted).Count());
        if (verbose && (!outcome.IsFound || !outcome.IsTimed))
        {
            Console.WriteLine($"  {(outcome.IsAudible ? "audible" : "inaudible")} {(outcome.IsFound ? $"timed {outcome.Overlap:0.00}" : "missed")}: {material.Name}: {form} {(isSteady ? "steady" : "gated")} {planted.FrequencyHz:0} Hz +{planted.RiseDb:0.0} dB Q {planted.Q:0}");
        }

        foreach (TroubleFinding finding in verbose ? PlantedRun.False(report, material, planted) : [])
        {
            Console.WriteLine($"  {material.Name}: FALSE {finding.Kind} {finding.CentreHz:0} Hz {finding.SurplusDb:0.0} dB {finding.ShareOfTime:0.00} {finding.Occurrence}");
        }
    }

    private static void WriteUntouched(List<PlantedMaterial> stems, bool verbose)
    {
        int findings = 0;
        int wrong = 0;
        int faults = 0;
        int known = 0;
        double seconds = 0;
        Process self = Process.GetCurrentProcess();
        TimeSpan busy = TimeSpan.Zero;
        foreach (PlantedMaterial stem in stems)
        {
            TimeSpan before = Busy(self);
            TroubleReport report = PlantedRun.Search(stem, stem.Sound);
            busy += Busy(self) - before;
            seconds += stem.Seconds;
            List<TroubleFinding> others = [.. PlantedRun.False(report, stem, null)];
            List<DemoFault> missed = [.. stem.Faults.Where(fault => !report.Findings.Any(finding => PlantedRun.Explains(fault, finding)))];
            findings += report.Findings.Length;
            wrong += others.Count;
            faults += stem.Faults.Count;
            known += stem.Faults.Count - missed.Count;
            if (verbose)
            {
                foreach (TroubleFinding finding in report.Findings)
                {
                    Console.WriteLine($"  {stem.Name}: {(others.Contains(finding) ? "FALSE " : "fault ")}{finding.Kind} {finding.CentreHz:0} Hz {finding.WidthOctaves:0.00} oct {finding.SurplusDb:0.0} dB {finding.PiercingSone:0.00} sone {finding.ShareOfTime:0.00} {finding.Occurrence}");
                }

                foreach (DemoFault fault in missed)
                {
                    Console.WriteLine($"  {stem.Name}: NOT FOUND {fault.Text} {fault.LowHz:0}–{fault.HighHz:0} Hz");
                }
            }
        }

        Console.WriteLine($"untouched: {stems.Count} stems, {findings} findings, {wrong} of them not in the demo's notes ({(double)wrong / stems.Count:0.00} a stem); {known} of {faults} faults of the notes found");
        Console.WriteLine($"search alone: {seconds / busy.TotalSeconds:0} times real time a core, by processor time of the whole process");
    }

    private static TimeSpan Busy(Process self)
    {
        self.Refresh();
        return self.TotalProcessorTime;
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
