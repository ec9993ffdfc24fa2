namespace LiveStems.Engine.RealTime;

/// <summary>
/// The K-weighted mean squares of both sides of a comparison, a tenth of a second each: written by the audio thread, read
/// by the control thread, which is never a minute behind.
/// </summary>
internal sealed class LoudnessLog
{
    /// <summary>Entries a second.</summary>
    public const int StepsPerSecond = 10;

    private const int Capacity = 2048;

    private readonly double[] inMeanSquares = new double[Capacity];
    private readonly double[] outMeanSquares = new double[Capacity];
    private long count;

    /// <summary>The most entries that can be read.</summary>
    public const int MostSteps = Capacity / 2;

    /// <summary>Entries so far.</summary>
    public long Count => Volatile.Read(ref count);

    /// <summary>Audio thread: adds the next tenth of a second.</summary>
    public void Add(double inMeanSquare, double outMeanSquare)
    {
        int place = (int)(count % Capacity);
        inMeanSquares[place] = inMeanSquare;
        outMeanSquares[place] = outMeanSquare;
        Volatile.Write(ref count, count + 1);
    }

    /// <summary>Control thread: the latest entries, as many as both spans hold, which must be there; the oldest first.</summary>
    public void CopyLatest(Span<double> inSide, Span<double> outSide)
    {
        long first = Count - inSide.Length;
        for (int i = 0; i < inSide.Length; i++)
        {
            int place = (int)((first + i) % Capacity);
            inSide[i] = inMeanSquares[place];
            outSide[i] = outMeanSquares[place];
        }
    }
}
