namespace LiveStems.Analysis.Intake;

/// <summary>A place in a file where something happens.</summary>
/// <param name="Frame">Its first frame.</param>
/// <param name="Frames">How many frames it lasts.</param>
/// <param name="Channel">0 left, 1 right.</param>
/// <param name="Size">How large it is, in the unit of what it is.</param>
public readonly record struct SoundEvent(long Frame, long Frames, int Channel, double Size);
