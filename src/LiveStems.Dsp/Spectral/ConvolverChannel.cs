using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>One channel of a <see cref="PartitionedConvolver"/>.</summary>
internal sealed class ConvolverChannel
{
    private readonly RealFourierTransform transform;
    private readonly int partition;
    private readonly SpectrumStore inputs;
    private readonly SpectrumStore product;
    private readonly float[] segment;
    private readonly float[] circular;
    private readonly float[] ready;
    private int newest;

    public ConvolverChannel(RealFourierTransform transform, int partitions)
    {
        this.transform = transform;
        partition = transform.Size / 2;
        inputs = new SpectrumStore(partitions, transform.Bins);
        product = new SpectrumStore(1, transform.Bins);
        segment = Unmoved.Array<float>(2 * partition);
        circular = Unmoved.Array<float>(2 * partition);
        ready = Unmoved.Array<float>(partition);
    }

    public void Reset()
    {
        newest = 0;
        inputs.Clear();
        Array.Clear(segment);
        Array.Clear(ready);
    }

    /// <summary>Takes input from a stretch of the present partition and puts finished output in its place.</summary>
    public void Exchange(Span<float> block, int position)
    {
        block.CopyTo(segment.AsSpan(partition + position));
        ready.AsSpan(position, block.Length).CopyTo(block);
    }

    /// <summary>Transforms the two newest partitions of input.</summary>
    public void TakePartition()
    {
        newest = newest == 0 ? inputs.Count - 1 : newest - 1;
        transform.Forward(segment, inputs.Real(newest), inputs.Imaginary(newest));
        segment.AsSpan(partition).CopyTo(segment);
    }

    /// <summary>Makes the output of the newest partition through a filter.</summary>
    public void Convolve(ConvolutionFilter filter)
    {
        Through(filter);
        circular.AsSpan(partition).CopyTo(ready);
    }

    /// <summary>Fades from the output made by <see cref="Convolve"/> to that through another filter, over the partition.</summary>
    public void FadeTo(ConvolutionFilter filter)
    {
        Through(filter);
        ReadOnlySpan<float> next = circular.AsSpan(partition);
        for (int n = 0; n < ready.Length; n++)
        {
            float share = (float)(n + 1) / ready.Length;
            ready[n] += share * (next[n] - ready[n]);
        }
    }

    private void Through(ConvolutionFilter filter)
    {
        SpectralProduct.Sum(inputs, newest, filter.Spectra, filter.UsedPartitions, product);
        transform.Inverse(product.Real(0), product.Imaginary(0), circular);
    }
}
