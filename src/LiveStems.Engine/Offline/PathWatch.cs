using LiveStems.Engine.Live;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Offline;

/// <summary>Looks at one path of a plan after every block and fills its columns, each value at the time its sound has in the song.</summary>
internal sealed class PathWatch
{
    private readonly TapPlace place;
    private readonly string name;
    private readonly ChainTaps ends;
    private readonly SoundTap tap;
    private readonly IReadOnlyList<PlannedSlot> slots;
    private readonly int startLatency;
    private readonly int columnFrames;
    private readonly float[] inputPeak;
    private readonly float[] outputPeak;
    private readonly double[] power;
    private readonly float[][] reductions;
    private readonly float[] left;
    private readonly float[] right;

    public PathWatch(
        TapPlace place,
        string name,
        ChainTaps ends,
        IReadOnlyList<PlannedSlot> slots,
        int startLatency,
        int columns,
        int columnFrames,
        int blockFrames)
    {
        this.place = place;
        this.name = name;
        this.ends = ends;
        this.slots = slots;
        this.startLatency = startLatency;
        this.columnFrames = columnFrames;
        LatencyFrames = startLatency + slots.Sum(slot => slot.Step?.LatencyFrames ?? 0);
        inputPeak = new float[columns];
        outputPeak = new float[columns];
        power = new double[columns];
        reductions = [.. slots.Select(_ => new float[columns])];
        left = new float[blockFrames];
        right = new float[blockFrames];
        tap = new SoundTap(blockFrames);
        ends.Output.Tap = tap;
    }

    /// <summary>Frames between the stems and the end of the chain.</summary>
    public int LatencyFrames { get; }

    /// <summary>A block that began at a frame has run.</summary>
    public void Look(long position)
    {
        (float inLeft, float inRight) = ends.Input.TakePeaks();
        Raise(inputPeak, position - startLatency, Math.Max(inLeft, inRight));
        int frames = tap.Take(left, right);
        for (int i = 0; i < frames; i++)
        {
            long column = (position + i - LatencyFrames) / columnFrames;
            if (position + i >= LatencyFrames && column < power.Length)
            {
                power[column] += ((double)left[i] * left[i] + (double)right[i] * right[i]) / 2;
                outputPeak[column] = Math.Max(outputPeak[column], Math.Max(Math.Abs(left[i]), Math.Abs(right[i])));
            }
        }

        long place = position - startLatency;
        for (int slot = 0; slot < slots.Count; slot++)
        {
            // What a processor with look-ahead does belongs to the sound that comes out of it.
            place -= slots[slot].Step?.LatencyFrames ?? 0;
            Raise(reductions[slot], place, -(slots[slot].Step?.TakeReductionDb() ?? 0));
        }
    }

    /// <summary>What was seen.</summary>
    public PathOverview Finish() => new(
        place,
        name,
        inputPeak,
        outputPeak,
        [.. power.Select(sum => (float)Math.Sqrt(sum / columnFrames))],
        slots.Select((slot, index) => (slot.Slot.Id, Depth: reductions[index]))
            .Where(slot => slot.Depth.Any(depth => depth > 0))
            .ToDictionary(slot => slot.Id, slot => slot.Depth.Select(depth => depth > 0 ? -depth : 0).ToArray(), StringComparer.Ordinal));

    private void Raise(float[] columns, long position, float value)
    {
        long column = position / columnFrames;
        if (position >= 0 && column < columns.Length)
        {
            columns[column] = Math.Max(columns[column], value);
        }
    }
}
