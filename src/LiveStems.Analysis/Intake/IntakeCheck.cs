namespace LiveStems.Analysis.Intake;

/// <summary>
/// The intake check: what arrived, whether it fits together, and what to ask the mix engineer for. Reads every file once;
/// only a song whose stems are out of place or damaged is read again, to measure its sum with them put right and without the
/// damaged moments. Memory depends on the number of stems, not on their length.
/// </summary>
public static class IntakeCheck
{
    /// <summary>Checks songs.</summary>
    /// <param name="songs">What to check.</param>
    /// <param name="progress">Told the song and the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two chunks.</param>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static IntakeReport Run(IReadOnlyList<IntakeSong> songs, Action<string, double>? progress, CancellationToken cancellation)
    {
        List<SongFacts> facts = [];
        List<IntakeFinding> findings = [];
        foreach (IntakeSong song in songs)
        {
            int done = facts.Count;
            facts.Add(new SongCheck(song).Run(share => progress?.Invoke(song.Title, (done + share) / songs.Count), cancellation));
            Judge(facts[^1], findings);
        }

        return new IntakeReport(facts, [.. findings.OrderBy(finding => finding.Rank)]);
    }

    private static void Judge(SongFacts song, List<IntakeFinding> findings)
    {
        foreach (SongFile stem in song.Stems)
        {
            FileJudge.Judge(song, stem, findings);
        }

        if (song.RoughMix is { } mix)
        {
            FileJudge.Judge(song, mix, findings);
        }

        new SongJudge(song, findings).Judge();
    }
}
