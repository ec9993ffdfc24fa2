namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Rows for pairs of rates with too many phases to store, computed from a <see cref="CubicTable"/> for each group.
/// </summary>
internal sealed class InterpolatedRows : FilterRows
{
    private readonly ResamplingRatio ratio;
    private readonly CubicTable table;
    private GroupOffsets offsets;

    public InterpolatedRows(ResamplingRatio ratio, CubicTable table)
        : base(table.Layout, RowLayout.GroupSize)
    {
        this.ratio = ratio;
        this.table = table;
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
        double position = (double)phase * table.Steps / ratio.Up;
        int step = (int)position;
        double within = position - step;
        CubicRow.Evaluate(table.Tails(step), (float)within, Tails.AsSpan(Layout.TailOffset(slot, 0), Layout.Taps));
        CubicRow.Evaluate(table.Hearts(step), within, Hearts.AsSpan(Layout.HeartOffset(slot, 0), Layout.HeartTaps));
    }
}
