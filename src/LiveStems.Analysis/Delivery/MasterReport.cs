using LiveStems.Dsp.Loudness;

namespace LiveStems.Analysis.Delivery;

/// <summary>A master that was written.</summary>
/// <param name="Song">Title of the song.</param>
/// <param name="Path">The file.</param>
/// <param name="SampleRate">Frames per second.</param>
/// <param name="Seconds">Length, tail included.</param>
/// <param name="Loudness">What was measured on the sound that went into the file.</param>
/// <param name="ClippedSamples">Samples that did not fit into the file's whole numbers.</param>
/// <param name="Remarks">What the listener should know.</param>
public sealed record MasterReport(
    string Song,
    string Path,
    int SampleRate,
    double Seconds,
    LoudnessReport Loudness,
    long ClippedSamples,
    IReadOnlyList<string> Remarks)
{
    /// <summary>What the outside processors in the song did.</summary>
    public IReadOnlyList<Engine.Planning.OutsideUse> Outside { get; init; } = [];
}
