namespace LiveStems.App.Demo.Score;

/// <summary>Chords for a group of voices, each voice moving as little as it can.</summary>
internal static class VoiceLeading
{
    /// <summary>
    /// For each chord as many keys as there are voices, rising, inside the range. The first chord sits in the middle of
    /// the range; every later one is the arrangement nearest to the one before.
    /// </summary>
    public static List<(ChordSpan Span, int[] Keys)> Arrange(IEnumerable<ChordSpan> chords, int voices, int low, int high)
    {
        var result = new List<(ChordSpan, int[])>();
        int[]? last = null;
        foreach (ChordSpan span in chords)
        {
            int[] best = Candidates(span.Chord, voices, low, high)
                .MinBy(keys => Distance(keys, last, low, high) + Gaps(keys, span.Chord))!;
            result.Add((span, best));
            last = best;
        }

        return result;
    }

    private static IEnumerable<int[]> Candidates(Chord chord, int voices, int low, int high)
    {
        int[] keys = [.. Enumerable.Range(low, high - low + 1).Where(chord.Has)];
        for (int first = 0; first <= keys.Length - voices; first++)
        {
            yield return keys[first..(first + voices)];

            // An open position: every voice but the top one skips one chord tone.
            int[] open = [.. Enumerable.Range(0, voices).Select(voice => first + voice + (voice > 0 ? 1 : 0))];
            if (open[^1] < keys.Length)
            {
                yield return [.. open.Select(index => keys[index])];
            }
        }
    }

    private static double Distance(int[] keys, int[]? last, int low, int high) => last is null
        ? Math.Abs(keys.Average() - (low + high) / 2.0)
        : keys.Zip(last, (now, before) => Math.Abs(now - before)).Sum();

    // Missing thirds and sevenths cost more than a step of a voice; doubled roots cost nothing.
    private static double Gaps(int[] keys, Chord chord) =>
        chord.Classes.Where(tone => (tone - chord.Root + 12) % 12 is 3 or 4 or 5 or 10 or 11)
            .Count(tone => keys.All(key => key % 12 != tone)) * 3.0;
}
