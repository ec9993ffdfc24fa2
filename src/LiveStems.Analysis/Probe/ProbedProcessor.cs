using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Room;

namespace LiveStems.Analysis.Probe;

/// <summary>One processor with its parameters set, listening to its own input. It is let go with this: what it holds outside this process too.</summary>
public sealed class ProbedProcessor(Processor processor) : IProbed, IDisposable
{
    /// <inheritdoc/>
    public int LatencyFrames { get; private set; }

    /// <inheritdoc/>
    public double? ModesPerHertz => (processor as RoomProcessor)?.ModesPerHertz;

    /// <inheritdoc/>
    /// <exception cref="HostingException">Its latency is not within what the program works with.</exception>
    public void Prepare(ProcessingFormat format)
    {
        processor.Prepare(format);
        LatencyFrames = DeclaredLatency.Of(processor, format);
    }

    /// <inheritdoc/>
    public void Reset() => processor.Reset();

    /// <inheritdoc/>
    public void Process(Span<float> left, Span<float> right) => processor.Process(new StereoBlock(left, right));

    /// <inheritdoc/>
    public void Dispose() => (processor as IDisposable)?.Dispose();
}
