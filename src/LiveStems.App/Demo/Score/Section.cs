namespace LiveStems.App.Demo.Score;

/// <summary>A stretch of bars with one purpose.</summary>
/// <param name="Name">"Intro", "Verse", "Chorus", …; a number follows where a section returns.</param>
/// <param name="FirstBar">Bars before it.</param>
/// <param name="Bars">Its length.</param>
/// <param name="Intensity">How hard everyone plays, 0 to 1.</param>
/// <param name="Chords">Its chords in order, each with beats counted from the start of the song.</param>
internal sealed record Section(string Name, int FirstBar, int Bars, double Intensity, IReadOnlyList<ChordSpan> Chords)
{
    /// <summary>Name without the number.</summary>
    public string Kind => Name.TrimEnd(' ', '1', '2', '3');
}

/// <summary>A chord with its place and length in beats from the start of the song.</summary>
internal readonly record struct ChordSpan(double Beat, double Beats, Chord Chord);
