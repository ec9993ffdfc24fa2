namespace LiveStems.Analysis.Trouble;

/// <summary>
/// The level that a share of a band's bins lies below. Where partials are narrow lines over noise it is the noise: lines fill
/// few bins, whatever their height, while a resonance fills the band.
/// </summary>
/// <remarks>C. A. R. Hoare's selection (Communications of the ACM 4, 1961) in a buffer of its own.</remarks>
internal sealed class LowQuantile(int mostBins, double share)
{
    private readonly float[] work = new float[mostBins];

    /// <summary>Power below which the share of the bins lies.</summary>
    public float Of(ReadOnlySpan<float> power)
    {
        Span<float> values = work.AsSpan(0, power.Length);
        power.CopyTo(values);
        int wanted = (int)(share * (values.Length - 1));
        int low = 0;
        int high = values.Length - 1;
        while (low < high)
        {
            float pivot = Middle(values[low], values[(low + high) / 2], values[high]);
            int up = low;
            int down = high;
            while (up <= down)
            {
                while (values[up] < pivot)
                {
                    up++;
                }

                while (values[down] > pivot)
                {
                    down--;
                }

                if (up <= down)
                {
                    (values[up], values[down]) = (values[down], values[up]);
                    up++;
                    down--;
                }
            }

            if (wanted <= down)
            {
                high = down;
            }
            else if (wanted >= up)
            {
                low = up;
            }
            else
            {
                break;
            }
        }

        return values[wanted];
    }

    private static float Middle(float a, float b, float c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
}
