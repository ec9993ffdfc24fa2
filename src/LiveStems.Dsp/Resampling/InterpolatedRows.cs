namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Rows for pairs of rates with too many phases to store: each tap is a cubic in the phase over one of at most 64 steps
/// between two input frames, computed for each output.
/// </summary>
/// <remarks>
/// The cubic goes through the four Chebyshev nodes of its step. The error of such a cubic is at most
/// |h⁗|/(24·128)·(1/steps)⁴ (de Boor and Conte, Elementary Numerical Analysis, section 6.1); the fourth derivative of the
/// sinc at its centre is (0.95π)⁴/5 per lower-rate period, so with 64 steps each tap is right to −190 dB.
/// </remarks>
internal sealed class InterpolatedRows : FilterRows
{
    private const int StepsPerPeriod = 64;
    private const int Terms = 4;

    private readonly ResamplingRatio ratio;
    private readonly int steps;
    private readonly float[] tailCubics;
    private readonly double[] heartCubics;
    private GroupOffsets offsets;

    public InterpolatedRows(ResamplingRatio ratio, ResamplingPrototype prototype, RowLayout layout)
        : base(layout, RowLayout.GroupSize)
    {
        this.ratio = ratio;
        steps = (int)Math.Ceiling(StepsPerPeriod / ratio.Stretch);
        tailCubics = new float[steps * Terms * layout.Taps];
        heartCubics = new double[steps * Terms * layout.HeartTaps];
        Span<double> cubic = stackalloc double[Terms];
        for (int step = 0; step < steps; step++)
        {
            for (int tap = 0; tap < layout.Taps; tap++)
            {
                FitCubic(prototype, layout.HalfTaps - 1 - tap + (double)step / steps, 1.0 / steps, cubic);
                Keep(step, tap, cubic);
            }
        }
    }

    public override ref readonly GroupOffsets Select(int outputIndex, int phase)
    {
        int lag = 0;
        for (int slot = 0; slot < RowLayout.GroupSize; slot++)
        {
            Evaluate(slot, phase);
            offsets.Tails[slot] = Layout.TailOffset(slot, lag);
            offsets.Hearts[slot] = Layout.HeartOffset(slot, lag);
            lag += ratio.Step(ref phase);
        }

        return ref offsets;
    }

    private void Evaluate(int slot, int phase)
    {
        double position = (double)phase * steps / ratio.Up;
        int step = (int)position;
        double within = position - step;
        int taps = Layout.Taps;
        CubicRow.Evaluate(
            tailCubics.AsSpan(step * Terms * taps, Terms * taps),
            (float)within,
            Tails.AsSpan(Layout.TailOffset(slot, 0), taps));
        int heartTaps = Layout.HeartTaps;
        CubicRow.Evaluate(
            heartCubics.AsSpan(step * Terms * heartTaps, Terms * heartTaps),
            within,
            Hearts.AsSpan(Layout.HeartOffset(slot, 0), heartTaps));
    }

    private void Keep(int step, int tap, ReadOnlySpan<double> cubic)
    {
        int heartTap = tap - Layout.HeartStart;
        bool inHeart = heartTap >= 0 && heartTap < Layout.HeartTaps;
        for (int term = 0; term < Terms; term++)
        {
            if (inHeart)
            {
                heartCubics[(step * Terms + term) * Layout.HeartTaps + heartTap] = cubic[term];
            }
            else
            {
                tailCubics[(step * Terms + term) * Layout.Taps + tap] = (float)cubic[term];
            }
        }
    }

    /// <summary>Newton's divided differences through the Chebyshev nodes, expanded to powers of u in 0…1.</summary>
    private static void FitCubic(ResamplingPrototype prototype, double start, double width, Span<double> cubic)
    {
        Span<double> nodes = stackalloc double[Terms];
        Span<double> differences = stackalloc double[Terms];
        for (int i = 0; i < Terms; i++)
        {
            nodes[i] = 0.5 - 0.5 * Math.Cos(Math.PI * (2 * i + 1) / (2 * Terms));
            differences[i] = prototype.At(start + nodes[i] * width);
        }

        for (int order = 1; order < Terms; order++)
        {
            for (int i = Terms - 1; i >= order; i--)
            {
                differences[i] = (differences[i] - differences[i - 1]) / (nodes[i] - nodes[i - order]);
            }
        }

        cubic.Clear();
        for (int i = Terms - 1; i >= 0; i--)
        {
            for (int power = Terms - 1; power > 0; power--)
            {
                cubic[power] = cubic[power - 1] - nodes[i] * cubic[power];
            }

            cubic[0] = differences[i] - nodes[i] * cubic[0];
        }
    }
}
