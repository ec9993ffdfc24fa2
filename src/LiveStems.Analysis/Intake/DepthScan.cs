using System.Numerics;

namespace LiveStems.Analysis.Intake;

/// <summary>Finds how many bits of a sample are really used: the finest step that every sample is a multiple of.</summary>
internal sealed class DepthScan
{
    private const int GridBits = 24;
    private const float Scale = 1 << (GridBits - 1);

    private Vector<int> used;
    private int usedScalar;

    /// <summary>True when samples lie between the steps of 24 bits.</summary>
    public bool IsFiner { get; private set; }

    /// <summary>Bits in use, 0 for silence; 24 when samples are finer than that.</summary>
    public int Bits
    {
        get
        {
            int all = usedScalar;
            for (int lane = 0; lane < Vector<int>.Count; lane++)
            {
                all |= used[lane];
            }

            return all == 0 ? 0 : GridBits - BitOperations.TrailingZeroCount(all);
        }
    }

    /// <summary>Adds samples.</summary>
    public void Add(ReadOnlySpan<float> samples)
    {
        Vector<float> scale = new(Scale);
        bool isOnGrid = true;
        int n = 0;
        for (; n <= samples.Length - Vector<float>.Count; n += Vector<float>.Count)
        {
            Vector<float> scaled = new Vector<float>(samples[n..]) * scale;
            Vector<int> steps = Vector.ConvertToInt32(scaled);
            used |= steps;
            isOnGrid &= Vector.EqualsAll(Vector.ConvertToSingle(steps), scaled);
        }

        for (; n < samples.Length; n++)
        {
            float scaled = samples[n] * Scale;
            int steps = (int)scaled;
            usedScalar |= steps;
            isOnGrid &= steps == scaled;
        }

        IsFiner |= !isOnGrid;
    }
}
