namespace LiveStems.View.Desk;

/// <summary>
/// How alike left and right are: Σ lr / √(Σ l² Σ r²) with weights that fade exponentially. 1 for mono, 0 for sides that
/// have nothing to do with each other, −1 for one side turned over.
/// </summary>
public sealed class CorrelationMeter
{
    // Below −100 dBFS there is nothing to compare.
    private const double SilencePower = 1e-10;

    private readonly double keep;
    private double both;
    private double left;
    private double right;

    /// <summary>A meter that weights the past by e^(−age / <paramref name="timeFrames"/>).</summary>
    public CorrelationMeter(double timeFrames) => keep = Math.Exp(-1 / timeFrames);

    /// <summary>−1 to 1; 1 when either side is silent.</summary>
    public double Value
    {
        get
        {
            double share = 1 - keep;
            bool isSilent = left * share < SilencePower || right * share < SilencePower;
            return isSilent ? 1 : Math.Clamp(both / Math.Sqrt(left * right), -1, 1);
        }
    }

    /// <summary>Takes sound in.</summary>
    public void Add(ReadOnlySpan<float> leftSamples, ReadOnlySpan<float> rightSamples)
    {
        for (int i = 0; i < leftSamples.Length; i++)
        {
            double l = leftSamples[i];
            double r = rightSamples[i];
            both = keep * both + l * r;
            left = keep * left + l * l;
            right = keep * right + r * r;
        }
    }
}
