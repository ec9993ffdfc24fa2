namespace LiveStems.Analysis.Intake;

/// <summary>The files of a song.</summary>
/// <param name="Title">Its title.</param>
/// <param name="Files">Its stems in order, and perhaps a rough mix.</param>
public sealed record IntakeSong(string Title, IReadOnlyList<IntakeFile> Files);
