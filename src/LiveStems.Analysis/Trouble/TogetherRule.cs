namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Resonances that come and go together are the partials of one sound, a drum or a held note: two or more become one
/// finding, the strongest, that follows notes. What is there all the time stays as it is, and so does a round peak, which is no
/// partial.
/// </summary>
internal static class TogetherRule
{
    private const double Together = 0.7;

    public static List<TroubleFinding> Apply(IEnumerable<(TroubleFinding Finding, bool IsRound)> resonances)
    {
        List<(TroubleFinding Finding, bool IsRound)> left = [.. resonances.OrderByDescending(each => each.Finding.SurplusDb)];
        List<TroubleFinding> kept = [.. left.Where(IsSteady).Select(each => each.Finding)];
        left.RemoveAll(IsSteady);
        while (left.Count > 0)
        {
            TroubleFinding strongest = left[0].Finding;
            left.RemoveAt(0);
            int partials = left.RemoveAll(other => !other.IsRound && Shared(strongest, other.Finding) >= Together);
            kept.Add(partials > 0 ? strongest with { Occurrence = Occurrence.NoteFollowing } : strongest);
        }

        return kept;

        static bool IsSteady((TroubleFinding Finding, bool IsRound) each) => each.Finding.Occurrence == Occurrence.Steady;
    }

    private static double Shared(TroubleFinding one, TroubleFinding other)
    {
        double shared = one.Ranges.Sum(range => other.Ranges.Sum(against =>
            Math.Max(0, Math.Min(range.EndSeconds, against.EndSeconds) - Math.Max(range.StartSeconds, against.StartSeconds))));
        double either = one.Ranges.Sum(range => range.Seconds) + other.Ranges.Sum(range => range.Seconds) - shared;
        return either > 0 ? shared / either : 0;
    }
}
