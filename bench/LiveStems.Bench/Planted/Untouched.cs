using System.Diagnostics;
using LiveStems.Analysis.Trouble;
using LiveStems.App.Demo;

namespace LiveStems.Bench.Planted;

/// <summary>What the search says about the stems as they are, and how long it takes.</summary>
internal sealed class Untouched
{
    private readonly Process self = Process.GetCurrentProcess();
    private int stems;
    private int findings;
    private int wrong;
    private int faults;
    private int known;
    private double seconds;
    private TimeSpan busy;

    /// <summary>Searches a stem as it is.</summary>
    public void Search(PlantedMaterial stem, bool verbose)
    {
        TimeSpan before = Busy();
        TroubleReport report = PlantedRun.Search(stem, stem.Sound);
        busy += Busy() - before;
        seconds += stem.Seconds;
        List<TroubleFinding> others = [.. PlantedRun.False(report, stem, null)];
        List<DemoFault> missed = [.. stem.Faults.Where(fault => !report.Findings.Any(finding => PlantedRun.Explains(fault, finding)))];
        stems++;
        findings += report.Findings.Length;
        wrong += others.Count;
        faults += stem.Faults.Count;
        known += stem.Faults.Count - missed.Count;
        foreach (TroubleFinding finding in verbose ? report.Findings : [])
        {
            Console.WriteLine($"  {stem.Name}: {(others.Contains(finding) ? "FALSE " : "fault ")}{finding.Kind} {finding.CentreHz:0} Hz {finding.WidthOctaves:0.00} oct {finding.SurplusDb:0.0} dB {finding.PiercingSone:0.00} sone {finding.ShareOfTime:0.00} {finding.Occurrence}");
        }

        foreach (DemoFault fault in verbose ? missed : [])
        {
            Console.WriteLine($"  {stem.Name}: NOT FOUND {fault.Text} {fault.LowHz:0}–{fault.HighHz:0} Hz");
        }
    }

    public void Write()
    {
        Console.WriteLine($"untouched: {stems} stems, {findings} findings, {wrong} of them not in the demo's notes ({(double)wrong / stems:0.00} a stem); {known} of {faults} faults of the notes found");
        Console.WriteLine($"search alone: {seconds / busy.TotalSeconds:0} times real time a core, by processor time of the whole process");
    }

    private TimeSpan Busy()
    {
        self.Refresh();
        return self.TotalProcessorTime;
    }
}
