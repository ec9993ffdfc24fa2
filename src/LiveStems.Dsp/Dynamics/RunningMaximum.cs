using System.Runtime.InteropServices;

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
    // Floats from 0 up order as their bits do, and whole numbers are compared without branches.
    private readonly int[] stretch;
    private int position;
    private int sinceStart;

    /// <summary>A window of one or more values.</summary>
    public RunningMaximum(int window) => stretch = new int[window];

    /// <summary>Values in the window.</summary>
    public int Window => stretch.Length;

    /// <summary>Only zeros before.</summary>
    public void Reset()
    {
        Array.Clear(stretch);
        position = 0;
        sinceStart = 0;
    }

    /// <summary>Takes the state of another maximum of the same window.</summary>
    public void CopyFrom(RunningMaximum other)
    {
        other.stretch.CopyTo(stretch, 0);
        position = other.position;
        sinceStart = other.sinceStart;
    }

    /// <summary>
    /// Both become the maximum of what either has seen. They have the same window and have taken in equally many values.
    /// </summary>
    public void Join(RunningMaximum other)
    {
        for (int i = 0; i < stretch.Length; i++)
        {
            stretch[i] = other.stretch[i] = Math.Max(stretch[i], other.stretch[i]);
        }

        sinceStart = other.sinceStart = Math.Max(sinceStart, other.sinceStart);
    }

    /// <summary>Replaces each value (0 or above) by the highest of the last <see cref="Window"/>.</summary>
    public void Process(Span<float> values)
    {
        Span<int> bits = MemoryMarshal.Cast<float, int>(values);
        while (bits.Length > 0)
        {
            int run = Math.Min(bits.Length, stretch.Length - position);
            if (position + run < stretch.Length)
            {
                WithinStretch(bits[..run]);
            }
            else
            {
                WithinStretch(bits[..(run - 1)]);
                EndStretch(ref bits[run - 1]);
            }

            bits = bits[run..];
        }
    }

    private void WithinStretch(Span<int> values)
    {
        // The table's place of a new value still holds the maximum from there to the old stretch's end, and the window
        // starts one place later.
        Span<int> places = stretch.AsSpan(position, values.Length);
        ReadOnlySpan<int> tails = stretch.AsSpan(position + 1, values.Length);
        int highest = sinceStart;
        for (int i = 0; i < places.Length; i++)
        {
            int value = values[i];
            highest = Math.Max(highest, value);
            values[i] = Math.Max(highest, tails[i]);
            places[i] = value;
        }

        sinceStart = highest;
        position += values.Length;
    }

    private void EndStretch(ref int value)
    {
        stretch[position] = value;
        value = Math.Max(sinceStart, value);
        sinceStart = 0;
        position = 0;
        Span<int> table = stretch;
        int tail = 0;
        for (int k = table.Length - 1; k >= 0; k--)
        {
            tail = Math.Max(tail, table[k]);
            table[k] = tail;
        }
    }
}
