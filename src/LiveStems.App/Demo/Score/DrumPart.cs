namespace LiveStems.App.Demo.Score;

/// <summary>One bar of a drum kit as step patterns; hats know 'o' open, 'h' half-open, 'p' pedal.</summary>
/// <param name="Kick">Bass drum.</param>
/// <param name="Snare">Snare; 's' is the stick across the rim.</param>
/// <param name="Hats">Hats.</param>
/// <param name="Cymbals">'c' crash, 'r' ride.</param>
/// <param name="Toms">'1' high, '2' middle, '3' low.</param>
internal sealed record DrumBar(string Kick, string Snare, string Hats, string Cymbals = "", string Toms = "");

internal enum DrumPiece
{
    Kick,
    Snare,
    Hats,
    Cymbals,
    Toms,
}

/// <summary>One stroke as written.</summary>
internal readonly record struct DrumHit(DrumPiece Piece, double Beat, char Mark, double Velocity);

/// <summary>What the drummer plays in a section: bars in turn, a fill in the last, perhaps a crash on the first beat.</summary>
/// <param name="Section">Name of the section.</param>
/// <param name="Bars">Played over and over.</param>
/// <param name="Fill">Last bar, or null to go on.</param>
/// <param name="CrashFirst">A crash on the first beat.</param>
internal sealed record DrumSection(string Section, IReadOnlyList<DrumBar> Bars, DrumBar? Fill = null, bool CrashFirst = false);

internal static class DrumPart
{
    /// <summary>All strokes of a song in order of time.</summary>
    public static List<DrumHit> Write(SongForm form, IEnumerable<DrumSection> sections)
    {
        var hits = new List<DrumHit>();
        foreach (DrumSection part in sections)
        {
            Section section = form[part.Section];
            double force = 0.62 + 0.38 * section.Intensity;
            for (int bar = 0; bar < section.Bars; bar++)
            {
                bool isLast = bar == section.Bars - 1;
                DrumBar pattern = isLast && part.Fill is not null ? part.Fill : part.Bars[bar % part.Bars.Count];
                double beat = (section.FirstBar + bar) * SongForm.BeatsPerBar;
                Add(hits, DrumPiece.Kick, pattern.Kick, beat, force);
                Add(hits, DrumPiece.Snare, pattern.Snare, beat, force);
                Add(hits, DrumPiece.Hats, pattern.Hats, beat, force);
                Add(hits, DrumPiece.Cymbals, pattern.Cymbals, beat, force);
                Add(hits, DrumPiece.Toms, pattern.Toms, beat, force);
                if (bar == 0 && part.CrashFirst)
                {
                    hits.Add(new DrumHit(DrumPiece.Cymbals, beat, 'c', 0.9 * force));
                }
            }
        }

        return [.. hits.OrderBy(hit => hit.Beat)];
    }

    private static void Add(List<DrumHit> hits, DrumPiece piece, string pattern, double beat, double force)
    {
        foreach ((double at, char mark) in StepPattern.Hits(pattern, beat))
        {
            hits.Add(new DrumHit(piece, at, mark, StepPattern.Velocity(mark) * force));
        }
    }
}
