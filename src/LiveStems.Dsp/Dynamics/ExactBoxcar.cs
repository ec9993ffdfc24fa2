namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The mean of the last N values as a running sum that never drifts.
/// </summary>
/// <remarks>
/// Values come as whole multiples of <see cref="Grain"/>; sums of such numbers are exact in double as long as they stay
/// below 2^53 grains (values below 2^20 and N below 2^12 leave 2^1), so what is added is later taken away to the last
/// bit.
/// </remarks>
public sealed class ExactBoxcar
{
    /// <summary>2^-20: the unit that values are rounded to.</summary>
    public const double Grain = 1.0 / (1 << 20);

    // Adding and taking away 1.5 · 2^52 grains rounds to whole grains.
    private const double RoundingShift = 6755399441055744.0 * Grain;

    private readonly double[] ring;
    private readonly double perLength;
    private int position;
    private double sum;

    /// <summary>A mean over one or more values.</summary>
    public ExactBoxcar(int length)
    {
        ring = new double[length];
        perLength = 1.0 / length;
    }

    /// <summary>Values in the mean.</summary>
    public int Length => ring.Length;

    /// <summary>Only zeros before.</summary>
    public void Reset()
    {
        Array.Clear(ring);
        position = 0;
        sum = 0;
    }

    /// <summary>Replaces each value by the mean of the last <see cref="Length"/>.</summary>
    public void Process(Span<double> values)
    {
        double[] memory = ring;
        int at = position;
        double total = sum;
        for (int i = 0; i < values.Length; i++)
        {
            double value = values[i] + RoundingShift - RoundingShift;
            total += value - memory[at];
            memory[at] = value;
            at = at + 1 == memory.Length ? 0 : at + 1;
            values[i] = total * perLength;
        }

        position = at;
        sum = total;
    }
}
