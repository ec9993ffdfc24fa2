namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The highest of the last W values, in a fixed amount of work a value on average and at most W more once every W.
/// </summary>
/// <remarks>
/// M. van Herk, Pattern Recognition Letters 13 (1992), and J. Gil, M. Werman, IEEE PAMI 15 (1993), both from memory: time
/// is cut into stretches of W. A window that ends inside a stretch is the part from the stretch's start (a running
/// maximum) and the tail of the stretch before (a table of its maxima from each place to its end). The maximum of a set
/// does not depend on order, so the result is the same however the input is cut.
/// </remarks>
public sealed class RunningMaximum
{
    private readonly float[] stretch;
    private int position;
    private float sinceStart;

    /// <summary>A window of one or more values.</summary>
    public RunningMaximum(int window) => stretch = new float[window];

    /// <summary>Values in the window.</summary>
    public int Window => stretch.Length;

    /// <summary>Only zeros before.</summary>
    public void Reset()
    {
        Array.Clear(stretch);
        position = 0;
        sinceStart = 0;
    }

    /// <summary>Replaces each value (0 or above) by the highest of the last <see cref="Window"/>.</summary>
    public void Process(Span<float> values)
    {
        float[] table = stretch;
        int at = position;
        float highest = sinceStart;
        for (int i = 0; i < values.Length; i++)
        {
            // The place of the new value in the table still holds the maximum from there to the old stretch's end;
            // the window starts one later.
            float value = values[i];
            table[at] = value;
            highest = Higher(highest, value);
            at++;
            if (at < table.Length)
            {
                values[i] = Higher(highest, table[at]);
                continue;
            }

            values[i] = highest;
            at = 0;
            highest = 0;
            for (int k = table.Length - 2; k >= 0; k--)
            {
                table[k] = Higher(table[k], table[k + 1]);
            }
        }

        position = at;
        sinceStart = highest;
    }

    private static float Higher(float a, float b) => a > b ? a : b;
}
