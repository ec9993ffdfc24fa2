namespace LiveStems.Analysis.Spectra;

/// <summary>
/// Adds up the power of bins in bands. A bin stands for half a bin to either side; where an edge cuts one, the band gets
/// its share, so neighbouring bands together hold every bin once.
/// </summary>
public sealed class BandShares
{
    private readonly int[] firstBin;
    private readonly int[] lastBin;
    private readonly float[] firstShare;
    private readonly float[] lastShare;

    /// <summary>Prepares for frames of a size.</summary>
    /// <param name="bands">The bands, each below half the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="size">Samples of a frame.</param>
    public BandShares(ReadOnlySpan<OctaveBand> bands, int sampleRate, int size)
    {
        firstBin = new int[bands.Length];
        lastBin = new int[bands.Length];
        firstShare = new float[bands.Length];
        lastShare = new float[bands.Length];
        double binsPerHz = (double)size / sampleRate;
        for (int i = 0; i < bands.Length; i++)
        {
            double lower = bands[i].LowerHz * binsPerHz;
            double upper = Math.Min(bands[i].UpperHz * binsPerHz, size / 2);
            int first = (int)Math.Floor(lower + 0.5);
            int last = (int)Math.Floor(upper + 0.5);
            firstBin[i] = first;
            lastBin[i] = last;
            firstShare[i] = (float)((first == last ? upper : first + 0.5) - lower);
            lastShare[i] = first == last ? 0 : (float)(upper - (last - 0.5));
        }
    }

    /// <summary>Number of bands.</summary>
    public int Count => firstBin.Length;

    /// <summary>The power in every band.</summary>
    /// <param name="power">Power of the bins.</param>
    /// <param name="bands">Takes as many values as there are bands.</param>
    public void Sum(ReadOnlySpan<float> power, Span<float> bands)
    {
        for (int i = 0; i < firstBin.Length; i++)
        {
            int first = firstBin[i], last = lastBin[i];
            double sum = (double)power[first] * firstShare[i];
            if (last > first)
            {
                foreach (float bin in power[(first + 1)..last])
                {
                    sum += bin;
                }

                sum += (double)power[last] * lastShare[i];
            }

            bands[i] = (float)sum;
        }
    }
}
