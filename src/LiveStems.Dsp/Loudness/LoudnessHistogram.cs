namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Counts loudness values in bins of 1/1024 LU from the absolute gate (−70 LUFS) upwards, in pages of 1 LU so that any
/// question is answered by looking at some 1100 numbers. Memory is fixed; hours of sound cost nothing more.
/// </summary>
internal sealed class LoudnessHistogram
{
    public const int BinsPerPage = 1024;

    /// <summary>Pages; what is louder than +30 LUFS counts in the last bin.</summary>
    public const int Pages = 100;

    public const int Bins = Pages * BinsPerPage;

    private readonly int[] counts = new int[Bins];
    private readonly int[] pageCounts = new int[Pages];

    /// <param name="isForAudioThread">Whether the memory must be there before it is needed.</param>
    public LoudnessHistogram(bool isForAudioThread = false)
    {
        if (isForAudioThread)
        {
            // Fresh memory is handed out page by page as it is first written; better here than on the audio thread.
            Array.Clear(counts);
        }
    }

    /// <summary>All values counted.</summary>
    public int Count { get; private set; }

    /// <summary>Values in one bin.</summary>
    public int this[int bin] => counts[bin];

    /// <summary>The bin of a loudness at or above the absolute gate.</summary>
    public static int BinOf(double lufs) =>
        (int)Math.Clamp((lufs - LoudnessScale.AbsoluteGateLufs) * BinsPerPage, 0, Bins - 1);

    /// <summary>Loudness in the middle of a bin, LUFS.</summary>
    public static double MiddleOf(int bin) => LoudnessScale.AbsoluteGateLufs + (bin + 0.5) / BinsPerPage;

    public static int PageOf(int bin) => bin / BinsPerPage;

    /// <summary>Counts a value.</summary>
    public void Add(int bin)
    {
        counts[bin]++;
        pageCounts[PageOf(bin)]++;
        Count++;
    }

    /// <summary>True when any value lies in the page.</summary>
    public bool Holds(int page) => pageCounts[page] != 0;

    /// <summary>Values in the bins from <paramref name="bin"/> upwards.</summary>
    public int CountFrom(int bin)
    {
        int sum = 0;
        int nextPage = PageOf(bin) + 1;
        for (int i = bin; i < nextPage * BinsPerPage; i++)
        {
            sum += counts[i];
        }

        for (int page = nextPage; page < Pages; page++)
        {
            sum += pageCounts[page];
        }

        return sum;
    }

    /// <summary>The bin of the value that has <paramref name="rank"/> − 1 values at or below it; ranks count from 1.</summary>
    public int BinOfRank(int rank)
    {
        int page = 0;
        while (rank > pageCounts[page])
        {
            rank -= pageCounts[page++];
        }

        int bin = page * BinsPerPage;
        while (rank > counts[bin])
        {
            rank -= counts[bin++];
        }

        return bin;
    }

    /// <summary>Forgets every value; touches only pages in use.</summary>
    public void Reset()
    {
        for (int page = 0; page < Pages; page++)
        {
            if (Holds(page))
            {
                Array.Clear(counts, page * BinsPerPage, BinsPerPage);
                pageCounts[page] = 0;
            }
        }

        Count = 0;
    }
}
