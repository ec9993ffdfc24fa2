namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Resonances that come and go together are the partials of one sound, a drum or a held note: two or more become one
/// finding, the strongest, that follows notes. What is there all the time stays as it is.
/// </summary>
internal static class TogetherRule
{
    private const int Fewest = 2;
    private const double Together = 0.7;

    public static List<TroubleFinding> Apply(List<TroubleFinding> findings)
    {
        List<TroubleFinding> left = [.. findings.Where(finding => finding.Occurrence != Occurrence.Steady).OrderByDescending(finding => finding.SurplusDb)];
        List<TroubleFinding> kept = [.. findings.Where(finding => finding.Occurrence == Occurrence.Steady)];
        while (left.Count > 0)
        {
            TroubleFinding strongest = left[0];
            List<TroubleFinding> group = [.. left.Where(other => Shared(strongest, other) >= Together)];
            if (group.Count >= Fewest)
            {
                kept.Add(strongest with { Occurrence = Occurrence.NoteFollowing });
                left.RemoveAll(group.Contains);
            }
            else
            {
                kept.Add(strongest);
                left.RemoveAt(0);
            }
        }

        return kept;
    }

    private static double Shared(TroubleFinding one, TroubleFinding other)
    {
        double shared = one.Ranges.Sum(range => other.Ranges.Sum(against =>
            Math.Max(0, Math.Min(range.EndSeconds, against.EndSeconds) - Math.Max(range.StartSeconds, against.StartSeconds))));
        double either = one.Ranges.Sum(range => range.Seconds) + other.Ranges.Sum(range => range.Seconds) - shared;
        return either > 0 ? shared / either : 0;
    }
}
