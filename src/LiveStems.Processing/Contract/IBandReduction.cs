namespace LiveStems.Processing.Contract;

/// <summary>A processor with bands whose gains move with the sound: what each adds now, for views to draw.</summary>
/// <remarks>For the reading thread of <see cref="ISpectralReduction"/>, under the same rules.</remarks>
public interface IBandReduction
{
    /// <summary>
    /// The gain that each band, in its order, adds to its own at present, in dB: below 0 when it takes down, 0 when it stands
    /// still.
    /// </summary>
    ReadOnlySpan<float> LatestBandReductionDb();
}
