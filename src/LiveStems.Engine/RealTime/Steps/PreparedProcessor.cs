using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>A processor that has been prepared, and what it said of its latency then; nobody asks it again.</summary>
/// <param name="Processor">The processor.</param>
/// <param name="LatencyFrames">Frames between its input and its output.</param>
internal sealed record PreparedProcessor(Processor Processor, int LatencyFrames);
