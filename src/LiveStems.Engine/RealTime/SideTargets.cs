namespace LiveStems.Engine.RealTime;

/// <summary>What is heard of a comparison, as the audio thread needs it; made on the control thread, never changed.</summary>
/// <param name="InShare">1 while "in" is heard, else 0.</param>
/// <param name="OutShare">1 while "out" is heard, else 0.</param>
/// <param name="DifferenceShare">1 while the difference is heard, else 0.</param>
/// <param name="InGain">Fair gain of "in", as an amplitude ratio.</param>
/// <param name="OutGain">Fair gain of "out" and of the difference.</param>
internal sealed record SideTargets(double InShare, double OutShare, double DifferenceShare, double InGain, double OutGain);
