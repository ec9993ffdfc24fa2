using System.Collections.Concurrent;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// One stored row for each phase, in the order in which outputs use them, so that memory is read straight through.
/// </summary>
internal sealed class StoredRows : FilterRows
{
    /// <summary>
    /// The larger term of the reduced ratio up to which all phases are stored. The rows of all phases together span 192
    /// periods of the lower rate at the least common multiple of both rates, so this means about 2.3 MB at most; every
    /// pair of usual rates from 16 kHz up needs no more than 1280.
    /// </summary>
    public const int MostPeriods = 2560;

    private static readonly ConcurrentDictionary<(int Up, int Down), StoredRows> Designed = new();

    private readonly GroupOffsets[] offsets;

    private StoredRows(ResamplingRatio ratio, ResamplingPrototype prototype, RowLayout layout)
        : base(layout, ratio.Up)
    {
        offsets = new GroupOffsets[ratio.Up];
        for (int row = 0; row < ratio.Up; row++)
        {
            int phase = ratio.Locate(row).Phase;
            FillRow(row, (double)phase / ratio.Up, prototype);
            offsets[row] = OffsetsFrom(row, phase, ratio);
        }
    }

    /// <summary>The rows for a ratio: designed once, never changed, shared.</summary>
    public static new StoredRows For(ResamplingRatio ratio) => Designed.GetOrAdd((ratio.Up, ratio.Down), _ =>
    {
        ResamplingPrototype prototype = new(ratio);
        return new StoredRows(ratio, prototype, new RowLayout(ratio, prototype.HalfWidth));
    });

    public override ref readonly GroupOffsets Select(int outputIndex, int phase) => ref offsets[outputIndex];

    private void FillRow(int row, double fraction, ResamplingPrototype prototype)
    {
        Span<float> tails = Tails.AsSpan(Layout.TailOffset(row, 0), Layout.Taps);
        Span<double> heart = Hearts.AsSpan(Layout.HeartOffset(row, 0), Layout.HeartTaps);
        for (int tap = 0; tap < Layout.Taps; tap++)
        {
            double value = prototype.At(fraction + Layout.HalfTaps - 1 - tap);
            int heartTap = tap - Layout.HeartStart;
            if (heartTap >= 0 && heartTap < Layout.HeartTaps)
            {
                heart[heartTap] = value;
            }
            else
            {
                tails[tap] = (float)value;
            }
        }
    }

    private GroupOffsets OffsetsFrom(int row, int phase, ResamplingRatio ratio)
    {
        GroupOffsets group = default;
        int lag = 0;
        for (int slot = 0; slot < RowLayout.GroupSize; slot++)
        {
            group.Tails[slot] = Layout.TailOffset(row, lag);
            group.Hearts[slot] = Layout.HeartOffset(row, lag);
            row = row + 1 == ratio.Up ? 0 : row + 1;
            lag += ratio.Step(ref phase);
        }

        return group;
    }
}
