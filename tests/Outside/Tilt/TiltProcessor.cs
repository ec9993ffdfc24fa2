using LiveStems.Processing.Contract;

namespace Outside.Tilt;

/// <summary>
/// Turns the whole spectrum about a pivot: brighter or darker by one control.
/// </summary>
/// <remarks>
/// First-order shelf with the gain split evenly over both ends, H(s) = (s·√g + 1)/(s + √g) around the pivot ω₀ = 1, where
/// |H| runs from 1/√g at 0 to √g at ∞ and is 1 at the pivot; made digital by the bilinear transform with the pivot prewarped
/// (Oppenheim and Schafer, Discrete-Time Signal Processing, 7.2). An example: its state moves with the gliding values.
/// </remarks>
public sealed class TiltProcessor : Processor
{
    private const int TiltDb = 0;
    private const int PivotHz = 1;

    private static readonly ProcessorDescription Kind = new(
        "outside-tilt",
        "Outside tilt",
        1,
        "Makes a stem brighter or darker as a whole without choosing a band.",
        [
            new ParameterSpec("tiltDb", "Tilt", ParameterUnit.Decibels, -12, 12, 0, Taper.Linear, "Difference between the highest and the lowest frequencies; above 0 is brighter."),
            new ParameterSpec("pivotHz", "Pivot", ParameterUnit.Hertz, 100, 5000, 800, Taper.Logarithmic, "The frequency that stays as it is."),
        ],
        ListensToKey: false);

    private double b0;
    private double b1;
    private double a1;
    private double leftState;
    private double rightState;

    /// <summary>Flat, about 800 Hz.</summary>
    public TiltProcessor()
        : base(Kind)
    {
    }

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        leftState = 0;
        rightState = 0;
        Design();
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved() => Design();

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        // Transposed direct form II: one number of state a side.
        for (int i = 0; i < segment.Frames; i++)
        {
            double left = segment.Left[i];
            double right = segment.Right[i];
            double leftOut = b0 * left + leftState;
            double rightOut = b0 * right + rightState;
            leftState = b1 * left - a1 * leftOut;
            rightState = b1 * right - a1 * rightOut;
            segment.Left[i] = (float)leftOut;
            segment.Right[i] = (float)rightOut;
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState()
    {
        leftState = Math.Abs(leftState) < 1e-20 ? 0 : leftState;
        rightState = Math.Abs(rightState) < 1e-20 ? 0 : rightState;
    }

    private void Design()
    {
        double root = Math.Pow(10, Value(TiltDb) / 40);
        double k = 1 / Math.Tan(Math.PI * Math.Min(Value(PivotHz), 0.45 * Format.SampleRate) / Format.SampleRate);
        double scale = 1 / (k + root);
        b0 = (k * root + 1) * scale;
        b1 = (1 - k * root) * scale;
        a1 = (root - k) * scale;
    }
}
