namespace LiveStems.Dsp.Spectral;

/// <summary>
/// Convolves stereo sound with long finite impulse responses, one for each channel, with a latency of one partition.
/// </summary>
/// <remarks>
/// <para>
/// Overlap-save with uniform partitions and a delay line of spectra: W. G. Gardner, "Efficient convolution without
/// input-output delay", JAES 43 (1995); F. Wefers, Partitioned Convolution Algorithms for Real-Time Auralization (2015),
/// section 5.2. Work comes once a partition, when its last frame has arrived.
/// </para>
/// <para>
/// Partitions end at multiples of their length since reset, so the output does not depend on block sizes. All memory is
/// taken by the constructor.
/// </para>
/// </remarks>
public sealed class PartitionedConvolver
{
    private readonly ConvolverChannel left;
    private readonly ConvolverChannel right;
    private readonly int maximumTaps;
    private ConvolutionFilter leftFilter;
    private ConvolutionFilter rightFilter;
    private ConvolutionFilter nextLeft;
    private ConvolutionFilter nextRight;
    private int filled;

    /// <summary>
    /// Starts with a filter for each channel (the same object may serve both); filters used later may be as long as the
    /// longer of their <see cref="ConvolutionFilter.MaximumTaps"/>.
    /// </summary>
    /// <exception cref="ArgumentException">The filters have different partitions.</exception>
    public PartitionedConvolver(ConvolutionFilter left, ConvolutionFilter right)
    {
        LatencyFrames = left.PartitionFrames;
        maximumTaps = Math.Max(left.MaximumTaps, right.MaximumTaps);
        Check(right);
        RealFourierTransform transform = new(2 * LatencyFrames);
        int partitions = (maximumTaps + LatencyFrames - 1) / LatencyFrames;
        this.left = new ConvolverChannel(transform, partitions);
        this.right = new ConvolverChannel(transform, partitions);
        leftFilter = nextLeft = left;
        rightFilter = nextRight = right;
    }

    /// <summary>Frames between input and output, apart from the delay of the taps themselves: one partition.</summary>
    public int LatencyFrames { get; }

    /// <summary>
    /// Changes to other filters: the output fades over one partition, from the next that begins. Until
    /// <see cref="IsFading"/> is false again the filters used before must be left unchanged.
    /// </summary>
    /// <exception cref="ArgumentException">A filter has another partition or may hold more taps than there is room for.</exception>
    public void Use(ConvolutionFilter left, ConvolutionFilter right)
    {
        Check(left);
        Check(right);
        nextLeft = left;
        nextRight = right;
    }

    /// <summary>True while filters given to <see cref="Use"/> are not alone yet.</summary>
    public bool IsFading => nextLeft != leftFilter || nextRight != rightFilter;

    /// <summary>State as if from silence; a change of filters is complete.</summary>
    public void Reset()
    {
        filled = 0;
        leftFilter = nextLeft;
        rightFilter = nextRight;
        left.Reset();
        right.Reset();
    }

    /// <summary>Processes both channels, of equal length, in place.</summary>
    public void Process(Span<float> leftBlock, Span<float> rightBlock)
    {
        int done = 0;
        while (done < leftBlock.Length)
        {
            int frames = Math.Min(LatencyFrames - filled, leftBlock.Length - done);
            left.Exchange(leftBlock.Slice(done, frames), filled);
            right.Exchange(rightBlock.Slice(done, frames), filled);
            done += frames;
            filled += frames;
            if (filled == LatencyFrames)
            {
                filled = 0;
                Advance(left, ref leftFilter, nextLeft);
                Advance(right, ref rightFilter, nextRight);
            }
        }
    }

    private static void Advance(ConvolverChannel channel, ref ConvolutionFilter filter, ConvolutionFilter next)
    {
        channel.TakePartition();
        channel.Convolve(filter);
        if (next != filter)
        {
            channel.FadeTo(next);
            filter = next;
        }
    }

    private void Check(ConvolutionFilter filter)
    {
        if (filter.PartitionFrames != LatencyFrames || filter.MaximumTaps > maximumTaps)
        {
            throw new ArgumentException(
                $"a filter with partitions of {LatencyFrames} frames and at most {maximumTaps} taps is needed", nameof(filter));
        }
    }
}
