namespace LiveStems.Processing.Contract;

/// <summary>
/// A processor whose gain moves with the sound and differs from frequency to frequency: the curve of what it does now, for
/// views to draw.
/// </summary>
/// <remarks>
/// For one reading thread beside the audio thread, at any time after <see cref="Processor.Prepare"/>; neither ever waits for
/// the other. Spans stand still until the next call of the same member.
/// </remarks>
public interface ISpectralReduction
{
    /// <summary>The frequencies of the curve in Hz, rising; fixed by <see cref="Processor.Prepare"/>.</summary>
    ReadOnlySpan<float> ReductionFrequenciesHz { get; }

    /// <summary>
    /// The newest gain at each of the frequencies in dB: below 0 where the sound is taken down, above 0 where it is raised,
    /// 0 where nothing moves. What stands still whatever the sound does is not in it.
    /// </summary>
    ReadOnlySpan<float> LatestReductionDb();
}
