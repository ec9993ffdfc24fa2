using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// How much higher than read a true peak may be because of sound next to half the sample rate, where interpolators
/// disagree: every finite one has a transition band there, and between samples it hears that sound at its own gain and
/// together with its mirror image.
/// </summary>
/// <remarks>
/// What a half-way filter of <see cref="ShortLength"/> taps a side makes of the same samples differs from a long one by
/// that sound alone (above 0.42 of the sample rate). The allowance is <see cref="Share"/> times the largest difference of
/// the last <see cref="Window"/> samples. With it, meters of 32, 64 and 128 taps a side, and for noise even one without
/// end, agree that a ceiling is held, where they otherwise differ by 0.9 dB. Sound below 20 kHz at 48 kHz has no part in
/// it.
/// </remarks>
internal sealed class BandEdgeAllowance
{
    /// <summary>Frames before the first one whose allowance is wanted that must be made too, so that nothing older counts.</summary>
    public const int LookBack = 2 * Window;

    /// <summary>Share of the difference that is allowed.</summary>
    public const float Share = 1.5f;

    private const int ShortLength = 16;
    private const double ShortBeta = 6;
    private const int Window = 16;
    private const int History = Window + LookBack;

    private readonly HalfWayPair filters;
    private readonly float[] shorts;
    private readonly float[] gaps;
    private readonly float[] quads;

    /// <param name="halfWay">The long filter.</param>
    /// <param name="room">Samples that come in before <see cref="Rewind"/>.</param>
    public BandEdgeAllowance(HalfWayFilter halfWay, int room)
    {
        HalfWayFilter shorter = new(ShortLength, ShortBeta);
        filters = new HalfWayPair(halfWay, shorter);
        Reach = Share * HalfWayFilter.Distance(halfWay, shorter);
        int padded = History + room + 4 * Vector256<float>.Count;
        shorts = new float[padded];
        gaps = new float[padded];
        quads = new float[padded];
    }

    /// <summary>The most that is allowed, as a share of the root of the sum of squares of all samples looked at.</summary>
    public double Reach { get; }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        Array.Clear(gaps);
        Array.Clear(quads);
    }

    /// <summary>Takes what is still needed from where the next run would start to the front.</summary>
    public void Rewind(int start)
    {
        gaps.AsSpan(start, History).CopyTo(gaps);
        quads.AsSpan(start, History).CopyTo(quads);
    }

    /// <summary>Makes the half-way points of the long filter, and keeps how much the short one differs.</summary>
    /// <param name="start">Samples since the last <see cref="Rewind"/>.</param>
    /// <param name="samples">The sample before the first half-way point.</param>
    /// <param name="halves">Where the half-way points go.</param>
    /// <param name="count">How many.</param>
    public void MakeHalves(int start, ref float samples, ref float halves, int count)
    {
        filters.Process(ref samples, ref halves, ref shorts[0], count);
        ref float gap = ref gaps[History + start];
        int i = 0;
        for (; Vector512.IsHardwareAccelerated && i + Vector256<float>.Count < count; i += Vector512<float>.Count)
        {
            Vector512.Abs(Vector512.LoadUnsafe(ref halves, (nuint)i) - Vector512.LoadUnsafe(ref shorts[i])).StoreUnsafe(ref gap, (nuint)i);
        }

        for (; i < count; i += Vector256<float>.Count)
        {
            Vector256.Abs(Vector256.LoadUnsafe(ref halves, (nuint)i) - Vector256.LoadUnsafe(ref shorts[i])).StoreUnsafe(ref gap, (nuint)i);
        }

        // One loop each: what was just written would have to wait to be read back at another place.
        ref float quad = ref quads[History + start];
        i = 0;
        for (; Vector512.IsHardwareAccelerated && i + Vector256<float>.Count < count; i += Vector512<float>.Count)
        {
            HighestOfSixteen(ref Unsafe.Add(ref gap, i), 1).StoreUnsafe(ref quad, (nuint)i);
        }

        for (; i < count; i += Vector256<float>.Count)
        {
            Highest(ref Unsafe.Add(ref gap, i), 1).StoreUnsafe(ref quad, (nuint)i);
        }
    }

    /// <summary>Adds the allowance to the peaks at half-way points just made.</summary>
    /// <param name="start">Samples since the last <see cref="Rewind"/>.</param>
    /// <param name="peaks">Peaks; whole vectors.</param>
    /// <param name="count">How many.</param>
    public void AddTo(int start, Span<float> peaks, int count)
    {
        ref float quad = ref quads[History + start];
        ref float peak = ref peaks[0];
        int i = 0;
        for (; Vector512.IsHardwareAccelerated && i + Vector256<float>.Count < count; i += Vector512<float>.Count)
        {
            (Vector512.LoadUnsafe(ref peak, (nuint)i) + Vector512.Create(Share) * HighestOfSixteen(ref Unsafe.Add(ref quad, i), 4))
                .StoreUnsafe(ref peak, (nuint)i);
        }

        for (; i < count; i += Vector256<float>.Count)
        {
            (Vector256.LoadUnsafe(ref peak, (nuint)i) + Vector256.Create(Share) * Highest(ref Unsafe.Add(ref quad, i), 4))
                .StoreUnsafe(ref peak, (nuint)i);
        }
    }

    // The highest of a place and of three before it.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Highest(ref float values, int apart) => Vector256.MaxNative(
        Vector256.MaxNative(Vector256.LoadUnsafe(ref values), Vector256.LoadUnsafe(ref Unsafe.Subtract(ref values, apart))),
        Vector256.MaxNative(
            Vector256.LoadUnsafe(ref Unsafe.Subtract(ref values, 2 * apart)),
            Vector256.LoadUnsafe(ref Unsafe.Subtract(ref values, 3 * apart))));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> HighestOfSixteen(ref float values, int apart) => Vector512.MaxNative(
        Vector512.MaxNative(Vector512.LoadUnsafe(ref values), Vector512.LoadUnsafe(ref Unsafe.Subtract(ref values, apart))),
        Vector512.MaxNative(
            Vector512.LoadUnsafe(ref Unsafe.Subtract(ref values, 2 * apart)),
            Vector512.LoadUnsafe(ref Unsafe.Subtract(ref values, 3 * apart))));
}
