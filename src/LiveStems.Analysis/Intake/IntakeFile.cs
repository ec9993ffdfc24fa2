namespace LiveStems.Analysis.Intake;

/// <summary>A delivered file.</summary>
/// <param name="Name">Name of the stem.</param>
/// <param name="Path">Where it lies on disk.</param>
/// <param name="IsRoughMix">True for the mix engineer's own mix.</param>
public sealed record IntakeFile(string Name, string Path, bool IsRoughMix);
