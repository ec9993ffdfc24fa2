using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Planning;

/// <summary>The two ends of a chain or processor in a running plan.</summary>
/// <param name="Input">Before it.</param>
/// <param name="Output">After it.</param>
internal sealed record ChainTaps(TapPoint Input, TapPoint Output);
