namespace LiveStems.Analysis.Papers;

/// <summary>What the papers tell beside the measurements of the songs.</summary>
/// <param name="HasAccount">True for the headroom account of every song; takes longer.</param>
/// <param name="HasCheck">True for what the intake check found.</param>
/// <param name="HasNotes">True for the notes of the album and the songs; they may be private.</param>
public sealed record PaperScope(bool HasAccount, bool HasCheck, bool HasNotes);
