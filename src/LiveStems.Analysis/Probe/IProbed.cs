using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Probe;

/// <summary>Anything that can be probed: a processor, a chain, a parallel together with its dry stem.</summary>
public interface IProbed
{
    /// <summary>Frames between input and output, after <see cref="Prepare"/>.</summary>
    int LatencyFrames { get; }

    /// <summary>How many modes of a reverberation share a hertz, or null where none is known.</summary>
    double? ModesPerHertz => null;

    /// <summary>Allocates and starts as if from silence.</summary>
    void Prepare(ProcessingFormat format);

    /// <summary>State as if from silence.</summary>
    void Reset();

    /// <summary>Processes in place.</summary>
    void Process(Span<float> left, Span<float> right);
}
