using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Files.Writing;

/// <summary>
/// Turns planar floats of full scale ±1 into interleaved little-endian samples. Whole numbers are rounded to the nearest,
/// ties to even, and saturate; floats are kept as they are.
/// </summary>
/// <remarks>The mirror of the decoder: four frames at a time, two overlapping 16-byte stores, byte shuffles between.</remarks>
internal sealed class SampleEncoder
{
    private const int FiniteLimit = 0x7F800000;

    private readonly bool isFloat;
    private readonly int channels;
    private readonly int sampleBytes;
    private readonly int stepBytes;
    private readonly int secondStore;
    private readonly float scale;
    private readonly float ceiling;
    private readonly Vector128<byte> firstFromLeft;
    private readonly Vector128<byte> firstFromRight;
    private readonly Vector128<byte> secondFromLeft;
    private readonly Vector128<byte> secondFromRight;

    internal SampleEncoder(WavFormat format)
    {
        isFloat = format.IsFloat;
        channels = format.Channels;
        sampleBytes = format.BitsPerSample / 8;
        FrameBytes = format.FrameBytes;
        stepBytes = 4 * FrameBytes;
        secondStore = Math.Max(0, stepBytes - 16);
        scale = 1u << (format.BitsPerSample - 1);

        // 2^31 − 1 is no float: there the saturating conversion cuts in place of the ceiling.
        ceiling = format.BitsPerSample == 32 ? scale : scale - 1;
        firstFromLeft = Picks(channel: 0, store: 0);
        firstFromRight = Picks(channel: 1, store: 0);
        secondFromLeft = Picks(channel: 0, store: secondStore);
        secondFromRight = Picks(channel: 1, store: secondStore);
    }

    /// <summary>Bytes of one frame.</summary>
    internal int FrameBytes { get; }

    /// <summary>Samples encoded so far that lay outside the range of whole numbers and were cut to it.</summary>
    internal long ClippedSamples { get; private set; }

    /// <summary>
    /// Encodes <c>left.Length</c> frames; a mono encoder takes the left side only. Returns false when a sample is NaN or
    /// infinite; the bytes then hold nothing of use.
    /// </summary>
    internal bool Encode(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<byte> destination)
    {
        int frames = left.Length;
        ArgumentOutOfRangeException.ThrowIfLessThan(destination.Length, frames * FrameBytes);
        if (channels == 1)
        {
            right = left;
        }

        ArgumentOutOfRangeException.ThrowIfNotEqual(right.Length, frames);
        int largest = 0;
        int done = channels == 2
            ? EncodeStereo(left, right, destination, ref largest)
            : EncodeMono(left, destination, ref largest);
        for (int frame = done; frame < frames; frame++)
        {
            Span<byte> bytes = destination.Slice(frame * FrameBytes, FrameBytes);
            One(left[frame], bytes, ref largest);
            if (channels == 2)
            {
                One(right[frame], bytes[sampleBytes..], ref largest);
            }
        }

        return largest < FiniteLimit;
    }

    private int EncodeStereo(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<byte> destination, ref int largest)
    {
        ref float fromLeft = ref MemoryMarshal.GetReference(left);
        ref float fromRight = ref MemoryMarshal.GetReference(right);
        ref byte to = ref MemoryMarshal.GetReference(destination);
        Vector128<byte> l0 = firstFromLeft, r0 = firstFromRight, l1 = secondFromLeft, r1 = secondFromRight;
        Vector128<int> magnitudes = Vector128<int>.Zero, clipped = Vector128<int>.Zero;
        int second = secondStore, step = stepBytes, frames = left.Length & ~3;
        nuint at = 0;
        for (int frame = 0; frame < frames; frame += 4, at += (nuint)step)
        {
            Vector128<float> l = Vector128.LoadUnsafe(ref fromLeft, (nuint)frame);
            Vector128<float> r = Vector128.LoadUnsafe(ref fromRight, (nuint)frame);
            magnitudes = Vector128.Max(magnitudes, Vector128.Max(Magnitude(l), Magnitude(r)));
            Vector128<byte> leftBytes = ToStored(l, ref clipped);
            Vector128<byte> rightBytes = ToStored(r, ref clipped);
            Vector128<byte> a = Vector128.ShuffleNative(leftBytes, l0) | Vector128.ShuffleNative(rightBytes, r0);
            Vector128<byte> b = Vector128.ShuffleNative(leftBytes, l1) | Vector128.ShuffleNative(rightBytes, r1);
            a.StoreUnsafe(ref to, at);
            b.StoreUnsafe(ref to, at + (nuint)second);
        }

        ClippedSamples -= Vector128.Sum(clipped);
        largest = Largest(magnitudes);
        return frames;
    }

    private int EncodeMono(ReadOnlySpan<float> only, Span<byte> destination, ref int largest)
    {
        ref float from = ref MemoryMarshal.GetReference(only);
        ref byte to = ref MemoryMarshal.GetReference(destination);
        Vector128<byte> picks = firstFromLeft;
        Vector128<int> magnitudes = Vector128<int>.Zero, clipped = Vector128<int>.Zero;

        // A store is 16 bytes and may reach into the next vectors' bytes, but not past the end.
        int beyond = (16 - stepBytes + FrameBytes - 1) / FrameBytes;
        int step = stepBytes, frames = Math.Max(0, only.Length - beyond) & ~3;
        nuint at = 0;
        for (int frame = 0; frame < frames; frame += 4, at += (nuint)step)
        {
            Vector128<float> samples = Vector128.LoadUnsafe(ref from, (nuint)frame);
            magnitudes = Vector128.Max(magnitudes, Magnitude(samples));
            Vector128.ShuffleNative(ToStored(samples, ref clipped), picks).StoreUnsafe(ref to, at);
        }

        ClippedSamples -= Vector128.Sum(clipped);
        largest = Largest(magnitudes);
        return frames;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector128<byte> ToStored(Vector128<float> samples, ref Vector128<int> clipped)
    {
        if (isFloat)
        {
            return samples.AsByte();
        }

        Vector128<float> rounded = Vector128.Round(samples * scale);
        clipped += (Vector128.GreaterThanOrEqual(rounded, Vector128.Create(scale))
            | Vector128.LessThan(rounded, Vector128.Create(-scale))).AsInt32();
        Vector128<float> inRange = Vector128.Max(Vector128.Min(rounded, Vector128.Create(ceiling)), Vector128.Create(-scale));
        return Vector128.ConvertToInt32(inRange).AsByte();
    }

    private void One(float sample, Span<byte> bytes, ref int largest)
    {
        int bits = BitConverter.SingleToInt32Bits(sample);
        largest = Math.Max(largest, bits & int.MaxValue);
        if (!isFloat)
        {
            float rounded = MathF.Round(sample * scale);
            ClippedSamples += rounded >= scale || rounded < -scale ? 1 : 0;
            bits = (int)Math.Clamp((double)rounded, -(double)scale, (double)scale - 1);
        }

        for (int rank = 0; rank < sampleBytes; rank++)
        {
            bytes[rank] = (byte)(bits >> (8 * rank));
        }
    }

    /// <summary>Which bytes of one channel's four lanes go to which byte of a store; 255 leaves a zero.</summary>
    private Vector128<byte> Picks(int channel, int store)
    {
        Span<byte> picks = stackalloc byte[16];
        picks.Fill(255);
        for (int to = 0; to < 16 && store + to < stepBytes; to++)
        {
            int sample = (store + to) / sampleBytes;
            if (sample % channels == channel)
            {
                picks[to] = (byte)((4 * (sample / channels)) + ((store + to) % sampleBytes));
            }
        }

        return Vector128.Create<byte>(picks);
    }

    private static Vector128<int> Magnitude(Vector128<float> samples) => samples.AsInt32() & Vector128.Create(int.MaxValue);

    private static int Largest(Vector128<int> lanes) => Math.Max(
        Math.Max(lanes.GetElement(0), lanes.GetElement(1)),
        Math.Max(lanes.GetElement(2), lanes.GetElement(3)));
}
