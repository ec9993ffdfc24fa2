using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Files.Writing;

/// <summary>Turns planar floats of full scale ±1 into interleaved little-endian samples.</summary>
/// <remarks>
/// The mirror of decoding: four frames at a time, byte shuffles, two overlapping 16-byte stores. What is left over goes
/// through the same vectors by way of a scratch, so a sample's bytes do not depend on where a block ends.
/// </remarks>
internal sealed class SampleEncoder
{
    private const byte Zero = 255;

    private readonly WavFormat format;
    private readonly int sampleBytes;
    private readonly int stepBytes;
    private readonly int secondStore;
    private readonly Vector128<byte> firstFromLeft;
    private readonly Vector128<byte> firstFromRight;
    private readonly Vector128<byte> secondFromLeft;
    private readonly Vector128<byte> secondFromRight;

    internal SampleEncoder(WavFormat format)
    {
        this.format = format;
        sampleBytes = format.BitsPerSample / 8;
        FrameBytes = format.FrameBytes;
        stepBytes = 4 * FrameBytes;
        secondStore = Math.Max(0, stepBytes - 16);
        firstFromLeft = Picks(channel: 0, store: 0);
        firstFromRight = Picks(channel: 1, store: 0);
        secondFromLeft = Picks(channel: 0, secondStore);
        secondFromRight = Picks(channel: 1, secondStore);
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
        ArgumentOutOfRangeException.ThrowIfNotEqual(right.Length, left.Length);
        destination = destination[..(left.Length * FrameBytes)];
        int suspects = format switch
        {
            { IsFloat: true } => Encode(new StoredFloats(), left, right, destination),
            { BitsPerSample: 32 } => Encode(new StoredLongIntegers(), left, right, destination),
            _ => Encode(new StoredIntegers(format.BitsPerSample), left, right, destination),
        };
        if (suspects > 0 && !(AreFinite(left) && AreFinite(right)))
        {
            return false;
        }

        ClippedSamples += suspects;
        return true;
    }

    private int Encode<TForm>(TForm form, ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<byte> destination)
        where TForm : struct, IStoredForm
    {
        // A store of 16 bytes may reach beyond its four frames, but not beyond the end.
        int reach = Math.Max(16, stepBytes);
        int whole = destination.Length < reach ? 0 : 4 * (((destination.Length - reach) / stepBytes) + 1);
        int suspects = EncodeVectors(form, left, right, destination, whole);
        Span<float> scratch = stackalloc float[8];
        Span<byte> bytes = stackalloc byte[32];
        for (int frame = whole; frame < left.Length; frame += 4)
        {
            int some = Math.Min(4, left.Length - frame);
            scratch.Clear();
            left.Slice(frame, some).CopyTo(scratch);
            right.Slice(frame, some).CopyTo(scratch[4..]);
            suspects += EncodeVectors(form, scratch[..4], scratch[4..], bytes, 4);
            bytes[..(some * FrameBytes)].CopyTo(destination[(frame * FrameBytes)..]);
        }

        return suspects;
    }

    private int EncodeVectors<TForm>(
        TForm form, ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<byte> destination, int frames)
        where TForm : struct, IStoredForm => format.Channels == 1
            ? EncodeMono(form, left, destination, frames)
            : EncodeStereo(form, left, right, destination, frames);

    private int EncodeStereo<TForm>(
        TForm form, ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<byte> destination, int frames)
        where TForm : struct, IStoredForm
    {
        ref float fromLeft = ref MemoryMarshal.GetReference(left);
        ref float fromRight = ref MemoryMarshal.GetReference(right);
        ref byte to = ref MemoryMarshal.GetReference(destination);
        Vector128<byte> l0 = firstFromLeft, r0 = firstFromRight, l1 = secondFromLeft, r1 = secondFromRight;
        Vector128<int> suspects = Vector128<int>.Zero;
        nuint at = 0, second = (nuint)secondStore, step = (nuint)stepBytes;
        for (int frame = 0; frame < frames; frame += 4, at += step)
        {
            Vector128<byte> l = form.Store(Vector128.LoadUnsafe(ref fromLeft, (nuint)frame), ref suspects).AsByte();
            Vector128<byte> r = form.Store(Vector128.LoadUnsafe(ref fromRight, (nuint)frame), ref suspects).AsByte();
            Vector128<byte> a = OwnInstructions.Pick(l, l0) | OwnInstructions.Pick(r, r0);
            Vector128<byte> b = OwnInstructions.Pick(l, l1) | OwnInstructions.Pick(r, r1);
            a.StoreUnsafe(ref to, at);
            b.StoreUnsafe(ref to, at + second);
        }

        return -Vector128.Sum(suspects);
    }

    private int EncodeMono<TForm>(TForm form, ReadOnlySpan<float> only, Span<byte> destination, int frames)
        where TForm : struct, IStoredForm
    {
        ref float from = ref MemoryMarshal.GetReference(only);
        ref byte to = ref MemoryMarshal.GetReference(destination);
        Vector128<byte> picks = firstFromLeft;
        Vector128<int> suspects = Vector128<int>.Zero;
        nuint at = 0, step = (nuint)stepBytes;
        for (int frame = 0; frame < frames; frame += 4, at += step)
        {
            Vector128<byte> bytes = form.Store(Vector128.LoadUnsafe(ref from, (nuint)frame), ref suspects).AsByte();
            OwnInstructions.Pick(bytes, picks).StoreUnsafe(ref to, at);
        }

        return -Vector128.Sum(suspects);
    }

    /// <summary>Which bytes of one channel's four lanes go to which byte of a store.</summary>
    private Vector128<byte> Picks(int channel, int store)
    {
        Span<byte> picks = stackalloc byte[16];
        picks.Fill(Zero);
        for (int to = 0; to < 16 && store + to < stepBytes; to++)
        {
            int sample = (store + to) / sampleBytes;
            if (sample % format.Channels == channel)
            {
                picks[to] = (byte)((4 * (sample / format.Channels)) + ((store + to) % sampleBytes));
            }
        }

        return Vector128.Create<byte>(picks);
    }

    private static bool AreFinite(ReadOnlySpan<float> samples)
    {
        foreach (float sample in samples)
        {
            if (!float.IsFinite(sample))
            {
                return false;
            }
        }

        return true;
    }
}
