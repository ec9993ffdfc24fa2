namespace LiveStems.Engine.RealTime;

/// <summary>Delays planar stereo sound by a fixed number of frames, exactly.</summary>
internal sealed class StereoDelayLine
{
    private readonly float[] left;
    private readonly float[] right;
    private int position;

    public StereoDelayLine(int frames)
    {
        left = GC.AllocateArray<float>(frames, pinned: true);
        right = GC.AllocateArray<float>(frames, pinned: true);
    }

    public int Frames => left.Length;

    public void Reset()
    {
        Array.Clear(left);
        Array.Clear(right);
        position = 0;
    }

    /// <summary>Swaps each frame with the one that went in <see cref="Frames"/> frames earlier; in place.</summary>
    public void Process(Span<float> blockLeft, Span<float> blockRight)
    {
        if (Frames == 0)
        {
            return;
        }

        int done = 0;
        while (done < blockLeft.Length)
        {
            int run = Math.Min(blockLeft.Length - done, Frames - position);
            Exchange(blockLeft.Slice(done, run), left.AsSpan(position, run));
            Exchange(blockRight.Slice(done, run), right.AsSpan(position, run));
            done += run;
            position += run;
            if (position == Frames)
            {
                position = 0;
            }
        }
    }

    private static void Exchange(Span<float> block, Span<float> memory)
    {
        for (int i = 0; i < block.Length; i++)
        {
            (block[i], memory[i]) = (memory[i], block[i]);
        }
    }
}
