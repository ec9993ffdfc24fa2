namespace LiveStems.Bench.Planted;

/// <summary>Recall, accuracy of what was found, and false findings, by kind of material.</summary>
internal sealed class PlantedTable
{
    private readonly SortedDictionary<string, (List<PlantedRun.Outcome> Outcomes, List<int> Wrong)> groups = new(StringComparer.Ordinal);

    public void Add(string group, PlantedRun.Outcome outcome, int wrong)
    {
        if (!groups.TryGetValue(group, out var lists))
        {
            groups[group] = lists = ([], []);
        }

        lists.Outcomes.Add(outcome);
        lists.Wrong.Add(wrong);
    }

    public void Write(TextWriter output)
    {
        output.WriteLine($"{"material",-28} {"planted",8} {"found",7} {"within 1/24 oct",16} {"times ≥ 80 %",13} {"mean overlap",13} {"false a stem",13}");
        foreach ((string group, (List<PlantedRun.Outcome> outcomes, List<int> wrong)) in groups)
        {
            Write(output, group, outcomes, wrong);
        }

        Write(output, "all", [.. groups.Values.SelectMany(group => group.Outcomes)], [.. groups.Values.SelectMany(group => group.Wrong)]);
    }

    private static void Write(TextWriter output, string group, List<PlantedRun.Outcome> outcomes, List<int> wrong)
    {
        List<PlantedRun.Outcome> found = [.. outcomes.Where(outcome => outcome.IsFound)];
        output.WriteLine(
            $"{group,-28} {outcomes.Count,8} {Share(found.Count, outcomes.Count),7} {Share(found.Count(outcome => outcome.CentreOctaves <= 1.0 / 24), found.Count),16} {Share(found.Count(outcome => outcome.IsTimed), found.Count),13} {Overlap(found),13} {wrong.Average(),13:0.00}");
    }

    private static string Overlap(List<PlantedRun.Outcome> found) => found.Count == 0 ? "–" : $"{100 * found.Average(outcome => outcome.Overlap):0} %";

    private static string Share(int part, int whole) => whole == 0 ? "–" : $"{100.0 * part / whole:0} %";
}
