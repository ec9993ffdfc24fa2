namespace LiveStems.Engine.RealTime;

/// <summary>
/// Watches how long a processor takes: more than half of a block's time, again and again, is more than one processor of
/// many may have.
/// </summary>
/// <remarks>
/// Every block over the share scores its length in shares, at most four; every other block takes one point away. So one
/// stall of the machine, which hits whatever happens to run, is forgiven; eight points are not.
/// </remarks>
internal sealed class ProcessorBudget(TimeProvider clock, int sampleRate)
{
    private const double Share = 0.5;
    private const int MostPoints = 4;
    private const int Limit = 8;

    // Shorter blocks have too little time to judge by.
    private const int ShortestBlock = 16;

    private readonly double blocksPerTick = (double)sampleRate / clock.TimestampFrequency;
    private long start;
    private int points;

    /// <summary>Forgives everything.</summary>
    public void Reset() => points = 0;

    /// <summary>The processor starts on a block.</summary>
    public void Begin() => start = clock.GetTimestamp();

    /// <summary>The processor has done a block; true when it has been too slow too often.</summary>
    public bool IsExceededAfter(int frames)
    {
        double shares = (clock.GetTimestamp() - start) * blocksPerTick / frames / Share;
        if (frames >= ShortestBlock)
        {
            points = shares > 1 ? points + (int)Math.Min(MostPoints, shares) : Math.Max(0, points - 1);
        }

        return points >= Limit;
    }
}
