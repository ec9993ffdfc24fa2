namespace LiveStems.Engine.RealTime;

/// <summary>What a step is asked to do.</summary>
/// <param name="Frames">Frames of this block.</param>
/// <param name="Side">
/// Which of the two sets of branch outputs this block uses, 0 or 1: while the song bus of one block is computed on one
/// core, the branches of the next can be on another.
/// </param>
internal readonly record struct PlanBlock(int Frames, int Side);
