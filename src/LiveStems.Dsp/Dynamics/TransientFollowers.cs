using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Finds onsets and tails of a sound by comparing followers of its peak level in dB, whatever the level is, and turns
/// them into a gain in dB.
/// </summary>
/// <remarks>
/// <para>
/// Derived here. Let m be the peak level (<see cref="PeakWindow"/>). Three followers of it:
/// fast f, a one-pole smoother with 0.3 ms upwards and 5 ms downwards; slow s, a one-pole smoother of f with the attack
/// time; held h[n] = max(f[n], α h[n−1] + (1 − α) f[n]) with the sustain time.
/// The onset is a = 20 log10(f/s) and the tail t = 20 log10(h/f), both 0 on a steady tone. All three followers are
/// homogeneous (k m gives k f, k s, k h for any k &gt; 0), so a and t do not depend on the level; this holds down to
/// −140 dBFS, below which everything counts as silence.
/// </para>
/// <para>
/// After a jump out of silence a falls from 20 log10(τs/τf) to 0 with the attack time; in a decay of rate r dB/s, t
/// grows by r − 8.686/τh dB/s.
/// </para>
/// <para>
/// gain = attack · w(a⁺) + sustain · w(t), w(d) = d²/(d² + 36): half of the set gain at 6 dB, all of it at large
/// differences, and with no slope at 0, so that the flutter of a steady noise moves it little.
/// </para>
/// </remarks>
public sealed class TransientFollowers
{
    /// <summary>Added to all followers, so that silence has no onsets.</summary>
    internal const double Silence = 1e-9;

    private const double FastRiseMs = 0.3;
    private const double FastFallMs = 5;
    private const float DbPerOctave = 6.0205999f;
    private const float HalfWaySquared = 36;

    private readonly double riseShare;
    private readonly double fallShare;
    private readonly double sampleRate;
    private double slowShare;
    private double heldPole;
    private double fast;
    private double slow;
    private double held;

    /// <summary>Followers at rest.</summary>
    /// <param name="sampleRate">Samples a second.</param>
    public TransientFollowers(double sampleRate)
    {
        this.sampleRate = sampleRate;
        riseShare = 1 - TimeConstant.Pole(FastRiseMs, sampleRate);
        fallShare = 1 - TimeConstant.Pole(FastFallMs, sampleRate);
        SetTimes(25, 200);
    }

    /// <summary>Sets the attack and the sustain time (τ, above 0); the state stays.</summary>
    public void SetTimes(double attackMs, double sustainMs)
    {
        slowShare = 1 - TimeConstant.Pole(attackMs, sampleRate);
        heldPole = TimeConstant.Pole(sustainMs, sampleRate);
    }

    /// <summary>The shares and the pole of one frame: fast follower upwards and downwards, slow follower, held follower.</summary>
    internal (double Rise, double Fall, double Slow, double HeldPole) Times => (riseShare, fallShare, slowShare, heldPole);

    /// <summary>The followers after the last frame.</summary>
    internal (double Fast, double Slow, double Held) State
    {
        get => (fast, slow, held);
        set => (fast, slow, held) = value;
    }

    /// <summary>Silence before.</summary>
    public void Reset() => fast = slow = held = 0;

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState()
    {
        fast = fast > 1e-20 ? fast : 0;
        slow = slow > 1e-20 ? slow : 0;
        held = held > 1e-20 ? held : 0;
    }

    /// <summary>From peak levels to the ratios f/s and h/f; all spans have one length.</summary>
    public void Follow(ReadOnlySpan<float> peaks, Span<float> onset, Span<float> tail)
    {
        double f = fast, s = slow, h = held;
        for (int i = 0; i < peaks.Length; i++)
        {
            double rise = peaks[i] - f;
            f = Math.FusedMultiplyAdd(rise > 0 ? riseShare : fallShare, rise, f);
            s = Math.FusedMultiplyAdd(slowShare, f - s, s);
            h = Math.Max(f, Math.FusedMultiplyAdd(heldPole, h - f, f));
            onset[i] = (float)((f + Silence) / (s + Silence));
            tail[i] = (float)((h + Silence) / (f + Silence));
        }

        (fast, slow, held) = (f, s, h);
    }

    /// <summary>
    /// Replaces onset ratios by reductions in dB (a raised onset is a negative one). Both spans are whole vectors of eight
    /// and hold ratios above 0.
    /// </summary>
    /// <param name="onset">Ratios f/s, then reductions.</param>
    /// <param name="tail">Ratios h/f.</param>
    /// <param name="attackDb">Gain of onsets, as it moves in the control interval.</param>
    /// <param name="sustainDb">Gain of tails, as it moves in the control interval.</param>
    /// <param name="position">Place of the first frame in the control interval.</param>
    public static void ToReduction(Span<float> onset, ReadOnlySpan<float> tail, in Ramp attackDb, in Ramp sustainDb, int position)
    {
        ref float a = ref MemoryMarshal.GetReference(onset);
        ref float t = ref MemoryMarshal.GetReference(tail[..onset.Length]);
        for (int i = 0; i < onset.Length; i += Vector256<float>.Count)
        {
            Vector256<float> rising = Weight(Vector256.LoadUnsafe(ref a, (nuint)i));
            Vector256<float> falling = Weight(Vector256.LoadUnsafe(ref t, (nuint)i));
            Vector256<float> gain = Vector256.FusedMultiplyAdd(rising, attackDb.At(position + i), falling * sustainDb.At(position + i));
            (-gain).StoreUnsafe(ref a, (nuint)i);
        }
    }

    private static Vector256<float> Weight(Vector256<float> ratio)
    {
        Vector256<float> difference = Vector256.MaxNative(VectorLog2.Of(ratio) * Vector256.Create(DbPerOctave), Vector256<float>.Zero);
        Vector256<float> square = difference * difference;
        return square / (square + Vector256.Create(HalfWaySquared));
    }
}
