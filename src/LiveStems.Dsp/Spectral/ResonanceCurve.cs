using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// One channel's peaks, followed bin by bin from frame to frame, and the cut they ask for.
/// </summary>
/// <remarks>
/// <para>
/// The surplus of each bin over the trend is averaged in decibels, not in power: there, noise (whose level in a single frame is
/// spread over some 5.6 dB and −2.5 dB in the mean, the logarithm of an exponential variate) falls below the trend however
/// short the average, while a steady partial stays where it is. A burst out of silence starts from an average of 0 dB and is over
/// before it has risen.
/// </para>
/// <para>
/// From the average D: cut = depth · D · u(D), u rising smoothly from 0 at the selectivity to 1 at
/// <see cref="KneeDb"/> above it, so that what is taken is taken whole and not merely down to the selectivity. Each bin's cut is
/// spread over the ±<see cref="LobeBins"/> bins of a Hann window's main lobe (a partial that loses only its middle bin
/// keeps most of its level), rounded off with ¼ ½ ¼, and let go with the release.
/// </para>
/// </remarks>
internal sealed class ResonanceCurve
{
    /// <summary>Decibels from a peak that is just left alone to one that is taken whole.</summary>
    public const float KneeDb = 3;

    /// <summary>Bins to either side that a sine reaches through a Hann window.</summary>
    public const int LobeBins = 2;

    /// <summary>Zeros before and behind each spectrum, so that neighbours of the ends can be read.</summary>
    public const int Margin = 8;

    private const float HighestSurplusDb = 30;
    private const float LowestSurplusDb = -10;
    private const float DbPerOctaveOfPower = 3.01029996f;

    private readonly int padded;
    private readonly float[] average;
    private readonly float[] wanted;
    private readonly float[] spread;
    private readonly float[] cut;

    public ResonanceCurve(int bins)
    {
        padded = (bins + 7) & -8;
        average = Unmoved.Array<float>(padded);
        wanted = Unmoved.Array<float>(padded + 2 * Margin);
        spread = Unmoved.Array<float>(padded + 2 * Margin);
        cut = Unmoved.Array<float>(padded);
    }

    /// <summary>Cut of each bin after the last frame, dB, 0 or above; padded to whole vectors of eight.</summary>
    public ReadOnlySpan<float> CutDb => cut;

    public void Reset()
    {
        Array.Clear(average);
        Array.Clear(cut);
    }

    /// <summary>Takes whatever is higher in another curve.</summary>
    public void Join(ResonanceCurve other)
    {
        for (int bin = 0; bin < padded; bin++)
        {
            average[bin] = Math.Max(average[bin], other.average[bin]);
            cut[bin] = Math.Max(cut[bin], other.cut[bin]);
        }
    }

    /// <summary>Becomes the same as another curve.</summary>
    public void CopyFrom(ResonanceCurve other)
    {
        other.average.CopyTo(average, 0);
        other.cut.CopyTo(cut, 0);
    }

    /// <summary>Moves on by one frame. All spans are padded to whole vectors of eight.</summary>
    /// <param name="power">Power of each bin.</param>
    /// <param name="trend">Its trend.</param>
    /// <param name="depths">Depth of each bin, 0 to 1.</param>
    /// <param name="floor">Power that is silence.</param>
    /// <param name="settings">Selectivity and deepest cut.</param>
    /// <param name="attackPole">Pole of the average, frame by frame.</param>
    /// <param name="releasePole">Pole of the release, frame by frame.</param>
    public void Advance(
        ReadOnlySpan<float> power,
        ReadOnlySpan<float> trend,
        ReadOnlySpan<float> depths,
        float floor,
        in ResonanceSettings settings,
        float attackPole,
        float releasePole)
    {
        Average(power[..padded], trend[..padded], floor, 1 - attackPole);
        Want(depths[..padded], (float)settings.SelectivityDb, (float)settings.DeepestCutDb);
        Spread();
        Release(releasePole);
    }

    private void Average(ReadOnlySpan<float> power, ReadOnlySpan<float> trend, float floor, float share)
    {
        ref float p = ref MemoryMarshal.GetReference(power);
        ref float t = ref MemoryMarshal.GetReference(trend);
        ref float a = ref MemoryMarshal.GetArrayDataReference(average);
        Vector256<float> silence = Vector256.Create(floor);
        for (nuint k = 0; k < (nuint)padded; k += (nuint)Vector256<float>.Count)
        {
            Vector256<float> above = VectorLog2.Of(Vector256.LoadUnsafe(ref p, k) + silence)
                - VectorLog2.Of(Vector256.LoadUnsafe(ref t, k) + silence);
            Vector256<float> surplus = Vector256.MinNative(
                Vector256.MaxNative(above * DbPerOctaveOfPower, Vector256.Create(LowestSurplusDb)),
                Vector256.Create(HighestSurplusDb));
            Vector256<float> before = Vector256.LoadUnsafe(ref a, k);
            Vector256<float> after = Vector256.FusedMultiplyAdd(Vector256.Create(share), surplus - before, before);
            (after & Vector256.GreaterThan(Vector256.Abs(after), Vector256.Create(1e-6f))).StoreUnsafe(ref a, k);
        }
    }

    private void Want(ReadOnlySpan<float> depths, float selectivity, float deepest)
    {
        ref float a = ref MemoryMarshal.GetArrayDataReference(average);
        ref float d = ref MemoryMarshal.GetReference(depths);
        ref float w = ref wanted[Margin];
        for (nuint k = 0; k < (nuint)padded; k += (nuint)Vector256<float>.Count)
        {
            Vector256<float> surplus = Vector256.LoadUnsafe(ref a, k);
            Vector256<float> u = (surplus - Vector256.Create(selectivity)) * Vector256.Create(1 / KneeDb);
            u = Vector256.MinNative(Vector256.MaxNative(u, Vector256<float>.Zero), Vector256<float>.One);
            u = u * u * Vector256.FusedMultiplyAdd(u, Vector256.Create(-2f), Vector256.Create(3f));
            Vector256<float> whole = surplus * u * Vector256.LoadUnsafe(ref d, k);
            Vector256.MinNative(whole, Vector256.Create(deepest)).StoreUnsafe(ref w, k);
        }
    }

    private void Spread()
    {
        ref float w = ref wanted[Margin];
        ref float s = ref spread[Margin];
        for (nint k = 0; k < padded; k += Vector256<float>.Count)
        {
            Vector256<float> most = At(ref w, k);
            for (int reach = 1; reach <= LobeBins; reach++)
            {
                most = Vector256.MaxNative(most, Vector256.MaxNative(At(ref w, k - reach), At(ref w, k + reach)));
            }

            most.StoreUnsafe(ref s, (nuint)k);
        }
    }

    private void Release(float pole)
    {
        ref float s = ref spread[Margin];
        ref float c = ref MemoryMarshal.GetArrayDataReference(cut);
        for (nint k = 0; k < padded; k += Vector256<float>.Count)
        {
            Vector256<float> sides = At(ref s, k - 1) + At(ref s, k + 1);
            Vector256<float> target = Vector256.FusedMultiplyAdd(At(ref s, k), Vector256.Create(0.5f), sides * 0.25f);
            Vector256<float> falling = Vector256.FusedMultiplyAdd(Vector256.Create(pole), At(ref c, k) - target, target);
            Vector256<float> next = Vector256.MaxNative(target, falling);
            (next & Vector256.GreaterThan(next, Vector256.Create(1e-6f))).StoreUnsafe(ref c, (nuint)k);
        }
    }

    private static Vector256<float> At(ref float start, nint offset) =>
        Vector256.LoadUnsafe(ref Unsafe.Add(ref start, offset));
}
