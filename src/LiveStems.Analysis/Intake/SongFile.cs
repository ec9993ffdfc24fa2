namespace LiveStems.Analysis.Intake;

/// <summary>A file of a song and what was measured in it.</summary>
/// <param name="File">The file.</param>
/// <param name="Fault">Why it could not be read; null when it could.</param>
/// <param name="Facts">What was measured; null when it could not be read.</param>
public sealed record SongFile(IntakeFile File, string? Fault, StemFacts? Facts);
