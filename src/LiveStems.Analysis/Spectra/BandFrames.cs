using System.Numerics;

namespace LiveStems.Analysis.Spectra;

/// <summary>
/// The power of fractional-octave bands over time, from frames of four sizes: each band is read from the shortest frames
/// that put seven bins into it, so that high bands are quick and low ones sharp.
/// </summary>
/// <remarks>
/// Seven bins hold the main lobe of a Hann window (four bins) wherever a tone may lie between the edges' bins. Where even
/// the longest frames (1.4 s) put fewer into a band, as for 1/24 octaves below 180 Hz, neighbours blur into each other;
/// <see cref="ResolutionHz"/> tells. All memory comes with construction, whatever the length of the sound.
/// </remarks>
public sealed class BandFrames
{
    private const int BinsWanted = 7;
    private const int LongestAt48 = 65_536;
    private const int SizeRatio = 4;
    private const int LayerCount = 4;

    private readonly Layer[] layers;
    private readonly double[] resolution;

    /// <summary>Prepares the bands, as if from silence.</summary>
    /// <param name="bands">Neighbouring bands, upwards, each below half the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="channel">What of the stereo sound is looked at.</param>
    /// <param name="sink">Takes the frames.</param>
    /// <param name="lines">Takes the bins of the frames of <see cref="LineSize"/>; may be null.</param>
    public BandFrames(OctaveBand[] bands, int sampleRate, SpectrumChannel channel, IBandFrameSink sink, IPowerFrameSink? lines = null)
    {
        Bands = bands;
        SampleRate = sampleRate;
        resolution = new double[bands.Length];
        int[] sizes = Sizes(sampleRate);
        LineSize = LineSizeFor(sampleRate);
        List<Layer> made = [];
        int next = 0;
        foreach (int size in sizes)
        {
            int first = next;
            while (next < bands.Length && (size == sizes[^1] || bands[next].WidthHz * Shorter(sizes, size) / sampleRate < BinsWanted))
            {
                resolution[next++] = 1.5 * sampleRate / size;
            }

            IPowerFrameSink? linesHere = size == LineSize ? lines : null;
            if (next > first || linesHere is not null)
            {
                made.Add(new Layer(new BandShares(bands.AsSpan(first, next - first), sampleRate, size), first, size, channel, sink, linesHere));
            }
        }

        layers = [.. made];
    }

    /// <summary>The bands.</summary>
    public IReadOnlyList<OctaveBand> Bands { get; }

    /// <summary>Frames per second.</summary>
    public int SampleRate { get; }

    /// <summary>Samples of the frames whose single bins can be had: 0.34 s.</summary>
    public int LineSize { get; }

    /// <summary>The frame size whose bins can be had at a sample rate.</summary>
    public static int LineSizeFor(int sampleRate) => Sizes(sampleRate).Last(size => size >= 0.25 * sampleRate || size == Sizes(sampleRate)[0]);

    /// <summary>Bandwidth that the frames of a band resolve: the equivalent noise bandwidth of their window, in Hz.</summary>
    public double ResolutionHz(int band) => resolution[band];

    /// <summary>Adds any number of frames of sound; both channels have one length.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        foreach (Layer layer in layers)
        {
            layer.Frames.Add(left, right);
        }
    }

    /// <summary>Takes in the last frames. Only <see cref="Reset"/> may follow.</summary>
    public void Finish()
    {
        foreach (Layer layer in layers)
        {
            layer.Frames.Finish();
        }
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        foreach (Layer layer in layers)
        {
            layer.Frames.Reset();
        }
    }

    private static int Shorter(int[] sizes, int size) => sizes[Array.IndexOf(sizes, size) + 1];

    // The same lengths in seconds at every rate, as far as there are transforms for them; longest first.
    private static int[] Sizes(int sampleRate)
    {
        double scale = Math.Pow(2, Math.Round(Math.Log2(sampleRate / 48_000.0)));
        double longest = BitOperations.RoundUpToPowerOf2((uint)(LongestAt48 * scale));
        return [.. Enumerable.Range(0, LayerCount)
            .Select(layer => (int)Math.Clamp(longest / Math.Pow(SizeRatio, layer), 64, LongestAt48))
            .Distinct()];
    }

    private sealed class Layer : IPowerFrameSink
    {
        private readonly BandShares shares;
        private readonly int firstBand;
        private readonly IBandFrameSink bands;
        private readonly IPowerFrameSink? lines;
        private readonly float[] sums;

        public Layer(BandShares shares, int firstBand, int size, SpectrumChannel channel, IBandFrameSink bands, IPowerFrameSink? lines)
        {
            this.shares = shares;
            this.firstBand = firstBand;
            this.bands = bands;
            this.lines = lines;
            sums = new float[shares.Count];
            Frames = new PowerFrames(size, channel, this);
        }

        public PowerFrames Frames { get; }

        public void Take(ReadOnlySpan<float> power, bool isWhole)
        {
            lines?.Take(power, isWhole);
            if (sums.Length > 0)
            {
                shares.Sum(power, sums);
                bands.Take(firstBand, sums, Frames.HopFrames, isWhole);
            }
        }
    }
}
