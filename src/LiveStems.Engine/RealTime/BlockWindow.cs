namespace LiveStems.Engine.RealTime;

/// <summary>What every stem takes from its look-ahead for one block.</summary>
/// <param name="Frames">Frames to take; the rest of the block is silence.</param>
/// <param name="Ring">Which of the two rings is played.</param>
/// <param name="Generation">The filling of that ring which is wanted.</param>
/// <param name="LeavingGeneration">The filling of the other ring, while a cross-fade from it is under way.</param>
/// <param name="FadeFrom">Position in the cross-fade from the other ring, or −1 when none is under way.</param>
/// <param name="FadeFrames">Length of a cross-fade and of opening or closing.</param>
/// <param name="GateFrom">How far playback is open at the first frame, 0 to the length of a fade.</param>
/// <param name="GateStep">+1 while it opens, −1 while it closes, 0 when it stands.</param>
/// <param name="Passed">Frames at the start of the filling that have been played from the other ring already.</param>
/// <param name="IsInStep">True when both rings give the same music during the cross-fade.</param>
internal readonly record struct BlockWindow(
    int Frames, int Ring, long Generation, long LeavingGeneration, int FadeFrom, int FadeFrames, int GateFrom, int GateStep, long Passed = 0, bool IsInStep = false);
