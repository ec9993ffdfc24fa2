using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The highest magnitude of the reconstructed waveform between each sample and the next, on a grid of sixteenths of a
/// sample (ITU-R BS.1770-5 Annex 2 with a ratio of 16 and a longer filter than its example).
/// </summary>
/// <remarks>
/// <para>
/// Four doublings, each of which only makes the points half-way between those it has: halves by a windowed sinc of
/// <see cref="HalfLength"/> taps a side (Kaiser), quarters by 5 taps a side, eighths and sixteenths by 2. The later ones
/// need only be right up to 0.52, 0.26 and 0.13 of the half of their rates; minimax over that they err by 0.001, 0.012
/// and 0.001 dB. The grid misses at most 20 log cos(π/32) = −0.042 dB of a tone at half the sample rate, less below it
/// (Annex 2, attachment 1).
/// </para>
/// <para>
/// The half-way filter decides how near to half the sample rate the waveform is followed: it is 6 dB down exactly there.
/// </para>
/// </remarks>
public sealed class InterSamplePeak
{
    private const int Lanes = 8;
    private const int MidHistory = 8;
    private const int QuarterHistory = 8;

    // The latest point of an interval's curve that the quarters and eighths reach for lies three samples ahead.
    private const int Reach = 3;

    private static readonly float[] QuarterTaps = [0.6162975430488586f, -0.15769554674625397f, 0.054137349128723145f, -0.0152188241481781f, 0.0025368784554302692f];

    private readonly float[] halfTaps;
    
    private readonly int history;
    private readonly float[] samples;
    private readonly float[] halves;
    private readonly float[] firstQuarters;
    private readonly float[] lastQuarters;

    /// <summary>An interpolator for one channel.</summary>
    /// <param name="halfLength">Taps a side of the half-way filter, 8 to 128.</param>
    /// <param name="kaiserBeta">Shape of its Kaiser window.</param>
    /// <param name="maximumFrames">The longest run handed over at once.</param>
    public InterSamplePeak(int halfLength, double kaiserBeta, int maximumFrames)
    {
        HalfLength = halfLength;
        halfTaps = KaiserSinc.HalfWayTaps(halfLength, kaiserBeta);
        history = 2 * halfLength + 2 * Reach + 2;
        int padded = maximumFrames + 4 * Lanes;
        samples = new float[history + padded];
        halves = new float[MidHistory + padded];
        firstQuarters = new float[QuarterHistory + padded];
        lastQuarters = new float[QuarterHistory + padded];
    }

    /// <summary>Taps a side of the half-way filter.</summary>
    public int HalfLength { get; }

    /// <summary>Samples by which the intervals lag behind the input.</summary>
    public int DelaySamples => HalfLength + Reach;

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        Array.Clear(samples);
        Array.Clear(halves);
        Array.Clear(firstQuarters);
        Array.Clear(lastQuarters);
    }

    /// <summary>
    /// Takes finite samples in; <c>peaks[i]</c> becomes the highest magnitude from input i − <see cref="DelaySamples"/>
    /// to the one after it. <paramref name="peaks"/> has room for whole vectors of eight.
    /// </summary>
    public void Process(ReadOnlySpan<float> input, Span<float> peaks)
    {
        int frames = input.Length;
        input.CopyTo(samples.AsSpan(history));
        MakeHalves(frames);
        MakeQuarters(frames);
        TakePeaks(frames, peaks);
        Keep(samples, history, frames);
        Keep(halves, MidHistory, frames);
        Keep(firstQuarters, QuarterHistory, frames);
        Keep(lastQuarters, QuarterHistory, frames);
    }

    private static void Keep(float[] buffer, int history, int frames) =>
        buffer.AsSpan(frames, history).CopyTo(buffer);

    // halves[MidHistory + i] lies half-way between the samples history + i − HalfLength and the one after it.
    private void MakeHalves(int frames)
    {
        ref float taps = ref MemoryMarshal.GetArrayDataReference(halfTaps);
        ref float x = ref MemoryMarshal.GetArrayDataReference(samples);
        ref float y = ref MemoryMarshal.GetArrayDataReference(halves);
        int i = 0;
        for (; i + 3 * Lanes < frames; i += 4 * Lanes)
        {
            nuint at = (nuint)(history + i - HalfLength);
            Vector256<float> a = Vector256<float>.Zero;
            Vector256<float> b = Vector256<float>.Zero;
            Vector256<float> c = Vector256<float>.Zero;
            Vector256<float> d = Vector256<float>.Zero;
            for (nuint j = 0; j < (nuint)HalfLength; j++)
            {
                Vector256<float> tap = Vector256.Create(Unsafe.Add(ref taps, j));
                a = Vector256.FusedMultiplyAdd(tap, Pair(ref x, at, j), a);
                b = Vector256.FusedMultiplyAdd(tap, Pair(ref x, at + Lanes, j), b);
                c = Vector256.FusedMultiplyAdd(tap, Pair(ref x, at + 2 * Lanes, j), c);
                d = Vector256.FusedMultiplyAdd(tap, Pair(ref x, at + 3 * Lanes, j), d);
            }

            a.StoreUnsafe(ref y, (nuint)(MidHistory + i));
            b.StoreUnsafe(ref y, (nuint)(MidHistory + i + Lanes));
            c.StoreUnsafe(ref y, (nuint)(MidHistory + i + 2 * Lanes));
            d.StoreUnsafe(ref y, (nuint)(MidHistory + i + 3 * Lanes));
        }

        for (; i < frames; i += Lanes)
        {
            nuint at = (nuint)(history + i - HalfLength);
            Vector256<float> a = Vector256<float>.Zero;
            for (nuint j = 0; j < (nuint)HalfLength; j++)
            {
                a = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref taps, j)), Pair(ref x, at, j), a);
            }

            a.StoreUnsafe(ref y, (nuint)(MidHistory + i));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Pair(ref float x, nuint at, nuint j) =>
        Vector256.LoadUnsafe(ref x, at - j) + Vector256.LoadUnsafe(ref x, at + 1 + j);

    // Both quarters belong to the sample history + i − HalfLength − 2; the halves they need are there by then.
    private void MakeQuarters(int frames)
    {
        ref float x = ref MemoryMarshal.GetArrayDataReference(samples);
        ref float h = ref MemoryMarshal.GetArrayDataReference(halves);
        Vector256<float> t0 = Vector256.Create(QuarterTaps[0]);
        Vector256<float> t1 = Vector256.Create(QuarterTaps[1]);
        Vector256<float> t2 = Vector256.Create(QuarterTaps[2]);
        Vector256<float> t3 = Vector256.Create(QuarterTaps[3]);
        Vector256<float> t4 = Vector256.Create(QuarterTaps[4]);
        for (int i = 0; i < frames; i += Lanes)
        {
            nuint s = (nuint)(history + i - HalfLength - 2);
            nuint m = (nuint)(MidHistory + i - 2);
            Vector256<float> half0 = Vector256.LoadUnsafe(ref h, m);
            Vector256<float> sample0 = Vector256.LoadUnsafe(ref x, s);
            Vector256<float> sample1 = Vector256.LoadUnsafe(ref x, s + 1);
            Vector256<float> halfBefore1 = Vector256.LoadUnsafe(ref h, m - 1);
            Vector256<float> halfAfter1 = Vector256.LoadUnsafe(ref h, m + 1);
            Vector256<float> halfBefore2 = Vector256.LoadUnsafe(ref h, m - 2);
            Vector256<float> halfAfter2 = Vector256.LoadUnsafe(ref h, m + 2);
            Vector256<float> sampleBefore1 = Vector256.LoadUnsafe(ref x, s - 1);
            Vector256<float> sampleAfter2 = Vector256.LoadUnsafe(ref x, s + 2);

            Vector256<float> first = t0 * (sample0 + half0);
            first = Vector256.FusedMultiplyAdd(t1, halfBefore1 + sample1, first);
            first = Vector256.FusedMultiplyAdd(t2, sampleBefore1 + halfAfter1, first);
            first = Vector256.FusedMultiplyAdd(t3, halfBefore2 + sampleAfter2, first);
            first = Vector256.FusedMultiplyAdd(t4, Vector256.LoadUnsafe(ref x, s - 2) + halfAfter2, first);
            first.StoreUnsafe(ref firstQuarters[QuarterHistory + i]);

            Vector256<float> last = t0 * (half0 + sample1);
            last = Vector256.FusedMultiplyAdd(t1, sample0 + halfAfter1, last);
            last = Vector256.FusedMultiplyAdd(t2, halfBefore1 + sampleAfter2, last);
            last = Vector256.FusedMultiplyAdd(t3, sampleBefore1 + halfAfter2, last);
            last = Vector256.FusedMultiplyAdd(t4, halfBefore2 + Vector256.LoadUnsafe(ref x, s + 3), last);
            last.StoreUnsafe(ref lastQuarters[QuarterHistory + i]);
        }
    }

    private void TakePeaks(int frames, Span<float> peaks)
    {
        ref float x = ref MemoryMarshal.GetArrayDataReference(samples);
        ref float h = ref MemoryMarshal.GetArrayDataReference(halves);
        ref float f = ref MemoryMarshal.GetArrayDataReference(firstQuarters);
        ref float l = ref MemoryMarshal.GetArrayDataReference(lastQuarters);
        for (int i = 0; i < frames; i += Lanes)
        {
            nuint s = (nuint)(history + i - HalfLength - Reach);
            nuint m = (nuint)(MidHistory + i - Reach);
            nuint q = (nuint)(QuarterHistory + i - 1);
            Vector256<float> halfBefore = Vector256.LoadUnsafe(ref h, m - 1);
            Vector256<float> lastBefore = Vector256.LoadUnsafe(ref l, q - 1);
            Vector256<float> sample = Vector256.LoadUnsafe(ref x, s);
            Vector256<float> first = Vector256.LoadUnsafe(ref f, q);
            Vector256<float> half = Vector256.LoadUnsafe(ref h, m);
            Vector256<float> last = Vector256.LoadUnsafe(ref l, q);
            Vector256<float> next = Vector256.LoadUnsafe(ref x, s + 1);
            Vector256<float> firstAfter = Vector256.LoadUnsafe(ref f, q + 1);
            Vector256<float> halfAfter = Vector256.LoadUnsafe(ref h, m + 1);

            Vector256<float> eighthBefore = Eighth(halfBefore, lastBefore, sample, first);
            Vector256<float> eighth1 = Eighth(lastBefore, sample, first, half);
            Vector256<float> eighth3 = Eighth(sample, first, half, last);
            Vector256<float> eighth5 = Eighth(first, half, last, next);
            Vector256<float> eighth7 = Eighth(half, last, next, firstAfter);
            Vector256<float> eighthAfter = Eighth(last, next, firstAfter, halfAfter);

            Vector256<float> peak = Highest(Highest(sample, first), Highest(half, last));
            peak = Vector256.MaxNative(peak, Highest(Highest(eighth1, eighth3), Highest(eighth5, eighth7)));
            peak = Vector256.MaxNative(peak, Highest(
                Highest(Sixteenth(eighthBefore, sample, eighth1, first), Sixteenth(sample, eighth1, first, eighth3)),
                Highest(Sixteenth(eighth1, first, eighth3, half), Sixteenth(first, eighth3, half, eighth5))));
            peak = Vector256.MaxNative(peak, Highest(
                Highest(Sixteenth(eighth3, half, eighth5, last), Sixteenth(half, eighth5, last, eighth7)),
                Highest(Sixteenth(eighth5, last, eighth7, next), Sixteenth(last, eighth7, next, eighthAfter))));
            peak.StoreUnsafe(ref peaks[i]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Highest(Vector256<float> a, Vector256<float> b) =>
        Vector256.MaxNative(Vector256.Abs(a), Vector256.Abs(b));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Eighth(Vector256<float> a, Vector256<float> b, Vector256<float> c, Vector256<float> d) =>
        Vector256.FusedMultiplyAdd(Vector256.Create(0.5702332854270935f), b + c, Vector256.Create(-0.0709231048822403f) * (a + d));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Sixteenth(Vector256<float> a, Vector256<float> b, Vector256<float> c, Vector256<float> d) =>
        Vector256.FusedMultiplyAdd(Vector256.Create(0.5644494295120239f), b + c, Vector256.Create(-0.06449071317911148f) * (a + d));
}
