using System.Numerics;

namespace LiveStems.Dsp.Spectral;

/// <summary>The taps of a finite impulse response, cut into partitions and transformed, for a <see cref="PartitionedConvolver"/>.</summary>
/// <remarks>
/// All memory is taken by the constructor; <see cref="SetTaps"/> allocates nothing, so it may run where the convolver
/// runs. A filter in use must not be changed: set another one and hand that over.
/// </remarks>
public sealed class ConvolutionFilter
{
    /// <summary>The shortest partition, in frames.</summary>
    public const int SmallestPartition = 32;

    /// <summary>The longest partition, in frames.</summary>
    public const int LargestPartition = 32_768;

    private readonly RealFourierTransform transform;
    private readonly float[] segment;

    /// <summary>Makes a silent filter of up to <paramref name="maximumTaps"/> taps in partitions of a power of two from 32 to 32,768 frames.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The partition is none of these, or the filter would have no tap.</exception>
    public ConvolutionFilter(int partitionFrames, int maximumTaps)
    {
        if (!BitOperations.IsPow2(partitionFrames) || partitionFrames < SmallestPartition || partitionFrames > LargestPartition)
        {
            throw new ArgumentOutOfRangeException(
                nameof(partitionFrames), partitionFrames, "a power of two from 32 to 32768 is needed");
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(maximumTaps, 1);
        transform = new RealFourierTransform(2 * partitionFrames);
        segment = new float[2 * partitionFrames];
        PartitionFrames = partitionFrames;
        MaximumTaps = maximumTaps;
        Spectra = new SpectrumStore((maximumTaps + partitionFrames - 1) / partitionFrames, transform.Bins);
    }

    /// <summary>Frames of a partition.</summary>
    public int PartitionFrames { get; }

    /// <summary>The most taps the filter can have.</summary>
    public int MaximumTaps { get; }

    internal SpectrumStore Spectra { get; }

    /// <summary>Partitions that hold taps.</summary>
    internal int UsedPartitions { get; private set; }

    /// <summary>Replaces the taps: output n is the sum of taps[k]·input[n − k].</summary>
    /// <exception cref="ArgumentOutOfRangeException">There are more taps than <see cref="MaximumTaps"/>.</exception>
    public void SetTaps(ReadOnlySpan<float> taps)
    {
        Begin(taps.Length);
        for (int partition = 0; partition < UsedPartitions; partition++)
        {
            SetPart(partition, taps);
        }
    }

    /// <summary>Takes a number of taps, to be handed over part by part with <see cref="SetPart"/>.</summary>
    internal void Begin(int taps)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(taps, MaximumTaps);
        UsedPartitions = (taps + PartitionFrames - 1) / PartitionFrames;
    }

    /// <summary>Transforms one partition of all the taps.</summary>
    internal void SetPart(int partition, ReadOnlySpan<float> taps)
    {
        ReadOnlySpan<float> part = taps[(partition * PartitionFrames)..];
        part = part[..Math.Min(part.Length, PartitionFrames)];
        Array.Clear(segment);
        part.CopyTo(segment);
        transform.Forward(segment, Spectra.Real(partition), Spectra.Imaginary(partition));
    }
}
