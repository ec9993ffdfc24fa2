namespace LiveStems.Engine.RealTime;

/// <summary>What a step is asked to do.</summary>
/// <param name="Frames">Frames of this block.</param>
/// <param name="Side">
/// Which set of branch outputs this block uses, 0 to one less than the blocks under way: while the song bus of one block is
/// computed on one core, the branches of later ones can be on others.
/// </param>
internal readonly record struct PlanBlock(int Frames, int Side);
