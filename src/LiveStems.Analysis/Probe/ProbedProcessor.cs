using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Room;

namespace LiveStems.Analysis.Probe;

/// <summary>One processor with its parameters set, listening to its own input.</summary>
public sealed class ProbedProcessor(Processor processor) : IProbed
{
    /// <inheritdoc/>
    public int LatencyFrames => processor.LatencyFrames;

    /// <inheritdoc/>
    public double? ModesPerHertz => (processor as RoomProcessor)?.ModesPerHertz;

    /// <inheritdoc/>
    public void Prepare(ProcessingFormat format) => processor.Prepare(format);

    /// <inheritdoc/>
    public void Reset() => processor.Reset();

    /// <inheritdoc/>
    public void Process(Span<float> left, Span<float> right) => processor.Process(new StereoBlock(left, right));
}
