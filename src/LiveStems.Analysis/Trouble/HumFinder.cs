namespace LiveStems.Analysis.Trouble;

/// <summary>Mains hum: lines at multiples of 50 or 60 Hz that never stop, at least three, one of the first two among them.</summary>
internal sealed class HumFinder(HumLines lines, TroubleSettings settings)
{
    private const int Fewest = 3;

    public TroubleFinding? Find(double seconds)
    {
        List<(double Hz, double LevelDb, double AboveDb)> european = lines.Of(50);
        List<(double Hz, double LevelDb, double AboveDb)> american = lines.Of(60);
        List<(double Hz, double LevelDb, double AboveDb)> found = european.Count >= american.Count ? european : american;
        double mains = ReferenceEquals(found, european) ? 50 : 60;
        if (found.Count < Fewest || found[0].Hz > 2.5 * mains)
        {
            return null;
        }

        double surplus = found.Max(line => line.AboveDb);
        double piercing = found.Sum(line => Piercing.Sone(settings.SplOf(line.LevelDb), line.AboveDb, line.Hz));
        return new TroubleFinding(
            TroubleKind.Hum, Occurrence.Steady, mains, 1.0 / 12, surplus, piercing, 1, [new TimeRange(0, seconds)], 0, CorrectionAdvice.Notches([.. found.Select(line => line.Hz)]));
    }
}
