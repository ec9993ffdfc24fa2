using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Memory of its own for one processor of others, with margins that show when it has written beyond its block: neither the
/// sound of other stems nor the key is ever in its reach by accident.
/// </summary>
/// <remarks>
/// It tells what a wrong length or a stray index does. Code that writes anywhere it likes can only be kept away by a process of
/// its own.
/// </remarks>
internal sealed class ForeignMemory
{
    private const int Margin = 256;

    // A quiet NaN that no arithmetic gives.
    private static readonly float Untouched = BitConverter.Int32BitsToSingle(0x7FD1_5EA5);
    private static readonly int[] Pattern = [.. Enumerable.Repeat(BitConverter.SingleToInt32Bits(Untouched), Margin)];

    private readonly float[][] lanes;
    private readonly int maximumFrames;

    /// <param name="maximumFrames">Longest block.</param>
    public ForeignMemory(int maximumFrames)
    {
        this.maximumFrames = maximumFrames;
        lanes = [.. Enumerable.Range(0, 4).Select(_ => GC.AllocateArray<float>(Margin + maximumFrames + Margin, pinned: true))];
        foreach (float[] lane in lanes)
        {
            lane.AsSpan().Fill(Untouched);
        }
    }

    /// <summary>Copies a block in; the key may be empty.</summary>
    public void Put(ReadOnlySpan<float> left, ReadOnlySpan<float> right, ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight)
    {
        Put(0, left, left.Length);
        Put(1, right, left.Length);
        Put(2, keyLeft, keyLeft.Length);
        Put(3, keyRight, keyLeft.Length);
    }

    /// <summary>The block, for the processor.</summary>
    public StereoBlock Block(int frames, bool hasKey) => hasKey
        ? new StereoBlock(Lane(0, frames), Lane(1, frames), Lane(2, frames), Lane(3, frames))
        : new StereoBlock(Lane(0, frames), Lane(1, frames));

    /// <summary>Copies the block out.</summary>
    public void Take(Span<float> left, Span<float> right)
    {
        Lane(0, left.Length).CopyTo(left);
        Lane(1, right.Length).CopyTo(right);
    }

    /// <summary>True when nothing was written before or behind a block of so many frames.</summary>
    public bool IsIntact(int frames) =>
        IsIntact(lanes[0], frames) & IsIntact(lanes[1], frames) & IsIntact(lanes[2], maximumFrames) & IsIntact(lanes[3], maximumFrames);

    private static bool IsIntact(float[] lane, int frames) =>
        Bits(lane.AsSpan(0, Margin)).SequenceEqual(Pattern) && Bits(lane.AsSpan(Margin + frames, Margin)).SequenceEqual(Pattern);

    // By their bits: a NaN is not even equal to itself.
    private static ReadOnlySpan<int> Bits(Span<float> stretch) => System.Runtime.InteropServices.MemoryMarshal.Cast<float, int>(stretch);

    private void Put(int lane, ReadOnlySpan<float> sound, int frames)
    {
        sound.CopyTo(Lane(lane, frames));

        // A block may be shorter than the one before.
        lanes[lane].AsSpan(Margin + frames, Math.Min(Margin, maximumFrames - frames)).Fill(Untouched);
    }

    private Span<float> Lane(int lane, int frames) => lanes[lane].AsSpan(Margin, frames);
}
