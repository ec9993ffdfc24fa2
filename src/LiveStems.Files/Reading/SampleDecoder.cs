using System.Runtime.InteropServices;

namespace LiveStems.Files.Reading;

/// <summary>
/// Turns interleaved samples as they lie in a file into planar floats of full scale ±1. Whole numbers of up to 24 bits
/// and 32-bit floats come out exact; 32-bit whole numbers and 64-bit floats are rounded to the nearest float, ties to even.
/// </summary>
internal sealed class SampleDecoder
{
    private const int NarrowedSamples = 512;

    private readonly int channels;
    private readonly IntegerDecoding? integers;
    private readonly DoubleNarrowing? doubles;
    private readonly FloatDecoding? floats;

    internal SampleDecoder(SampleLayout layout, int channels)
    {
        this.channels = channels;
        FrameBytes = layout.Bytes * channels;
        if (!layout.IsFloat)
        {
            integers = new IntegerDecoding(layout, channels);
        }
        else if (layout.Bytes == sizeof(double))
        {
            doubles = new DoubleNarrowing(layout.IsBigEndian);
            floats = new FloatDecoding(isBigEndian: false, channels);
        }
        else
        {
            floats = new FloatDecoding(layout.IsBigEndian, channels);
        }
    }

    /// <summary>Bytes of one frame.</summary>
    internal int FrameBytes { get; }

    /// <summary>
    /// Decodes <c>left.Length</c> frames; one channel goes to both sides. Returns false when a float is NaN or infinite.
    /// </summary>
    internal bool Decode(ReadOnlySpan<byte> source, Span<float> left, Span<float> right)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(right.Length, left.Length);
        source = source[..(left.Length * FrameBytes)];
        bool isFinite = true;
        if (integers is not null)
        {
            Decode(integers, source, left, right);
        }
        else if (doubles is null)
        {
            isFinite = Decode(floats!, source, left, right);
        }
        else
        {
            isFinite = Decode(doubles, source, left, right);
        }

        if (channels == 1)
        {
            left.CopyTo(right);
        }

        return isFinite;
    }

    private void Decode(IntegerDecoding kernel, ReadOnlySpan<byte> source, Span<float> left, Span<float> right)
    {
        if (channels == 1)
        {
            kernel.Decode(source, left);
        }
        else
        {
            kernel.Decode(source, left, right);
        }
    }

    private bool Decode(FloatDecoding kernel, ReadOnlySpan<byte> source, Span<float> left, Span<float> right) => channels == 1
        ? kernel.Decode(source, left)
        : kernel.Decode(source, left, right);

    private bool Decode(DoubleNarrowing narrowing, ReadOnlySpan<byte> source, Span<float> left, Span<float> right)
    {
        Span<float> narrowed = stackalloc float[NarrowedSamples];
        bool isFinite = true;
        while (left.Length > 0)
        {
            int frames = Math.Min(left.Length, NarrowedSamples / channels);
            Span<float> interleaved = narrowed[..(frames * channels)];
            narrowing.Narrow(source, interleaved);
            isFinite &= Decode(floats!, MemoryMarshal.AsBytes(interleaved), left[..frames], right[..frames]);
            source = source[(frames * FrameBytes)..];
            left = left[frames..];
            right = right[frames..];
        }

        return isFinite;
    }
}
