namespace LiveStems.Dsp.Resampling;

/// <summary>The taps for every output.</summary>
internal abstract class FilterRows
{
    protected FilterRows(RowLayout layout, int rows)
    {
        Layout = layout;
        Tails = new float[rows * layout.TailStride];
        Hearts = new double[rows * layout.HeartStride];
    }

    public RowLayout Layout { get; }

    /// <summary>Taps of the tails in float; zeros in place of the heart.</summary>
    public float[] Tails { get; }

    /// <summary>Taps of the heart in double.</summary>
    public double[] Hearts { get; }

    /// <summary>
    /// Says where the taps of a group's four outputs begin, and makes them ready. <paramref name="outputIndex"/> is the
    /// number of the first output, modulo the number of phases; <paramref name="phase"/> is its phase.
    /// </summary>
    public abstract ref readonly GroupOffsets Select(int outputIndex, int phase);

    /// <summary>Stored rows where they are few enough, else interpolated ones; either share their tables.</summary>
    public static FilterRows For(ResamplingRatio ratio) => Math.Max(ratio.Up, ratio.Down) <= StoredRows.MostPeriods
        ? StoredRows.For(ratio)
        : new InterpolatedRows(ratio, CubicTable.For(ratio));
}
