namespace LiveStems.App.Demo.Score;

/// <summary>Tempo, sections and chords of a song, and where its beats fall in time.</summary>
internal sealed class SongForm
{
    public const int BeatsPerBar = 4;

    /// <summary>Silence before the first beat.</summary>
    public const double LeadInSeconds = 0.5;

    private readonly double slowingBeats;
    private readonly double slowing;

    /// <param name="tempo">Beats a minute.</param>
    /// <param name="tailSeconds">What the last sounds have to fade.</param>
    /// <param name="slowingBars">Bars at the end over which the tempo falls.</param>
    /// <param name="slowing">Share by which a beat is longer at the very end.</param>
    /// <param name="sections">Name, intensity and chords; bars are parted by '|', chords in a bar by spaces.</param>
    public SongForm(
        double tempo,
        double tailSeconds,
        int slowingBars,
        double slowing,
        params ReadOnlySpan<(string Name, double Intensity, string Chords)> sections)
    {
        Tempo = tempo;
        this.slowing = slowing;
        slowingBeats = slowingBars * BeatsPerBar;
        var built = new List<Section>();
        int bar = 0;
        foreach ((string name, double intensity, string chords) in sections)
        {
            string[] bars = chords.Split('|', StringSplitOptions.TrimEntries);
            built.Add(new Section(name, bar, bars.Length, intensity, ChordsOf(bars, bar)));
            bar += bars.Length;
        }

        Sections = built;
        Bars = bar;
        Seconds = SecondsAt(bar * BeatsPerBar) + tailSeconds;
    }

    public double Tempo { get; }

    public int Bars { get; }

    public double Seconds { get; }

    public IReadOnlyList<Section> Sections { get; }

    public IEnumerable<ChordSpan> Chords => Sections.SelectMany(section => section.Chords);

    public Section this[string name] => Sections.First(section => section.Name == name);

    public Section SectionAt(double beat) =>
        Sections.LastOrDefault(section => section.FirstBar * BeatsPerBar <= beat + 1e-9) ?? Sections[0];

    public Chord ChordAt(double beat) => Chords.Last(span => span.Beat <= beat + 1e-9 || span.Beat == 0).Chord;

    /// <summary>Where a beat falls, from the start of the file.</summary>
    public double SecondsAt(double beat)
    {
        double late = Math.Max(0, beat - (Bars * BeatsPerBar - slowingBeats));
        double stretched = slowingBeats > 0 ? slowing * late * late / (2 * slowingBeats) : 0;
        return LeadInSeconds + (beat + stretched) * 60 / Tempo;
    }

    /// <summary>Start of a section in seconds.</summary>
    public double StartOf(string section) => SecondsAt(this[section].FirstBar * BeatsPerBar);

    /// <summary>End of a section in seconds.</summary>
    public double EndOf(string section) => SecondsAt((this[section].FirstBar + this[section].Bars) * BeatsPerBar);

    private static List<ChordSpan> ChordsOf(string[] bars, int firstBar)
    {
        var spans = new List<ChordSpan>();
        for (int bar = 0; bar < bars.Length; bar++)
        {
            string[] symbols = bars[bar].Split(' ', StringSplitOptions.RemoveEmptyEntries);
            double beats = (double)BeatsPerBar / symbols.Length;
            for (int i = 0; i < symbols.Length; i++)
            {
                spans.Add(new ChordSpan((firstBar + bar) * BeatsPerBar + i * beats, beats, Chord.Parse(symbols[i])));
            }
        }

        return spans;
    }
}
