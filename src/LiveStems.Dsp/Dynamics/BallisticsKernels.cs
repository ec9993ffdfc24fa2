using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The recursion of <see cref="Ballistics"/> for eight channels in the lanes of a vector, and for two such vectors, which then
/// wait for themselves at the same time.
/// </summary>
internal static class BallisticsKernels
{
    /// <summary>Eight channels with a release of their own, a row a frame, in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Plain(Span<Vector256<float>> rows, ref BallisticsLanes lanes)
    {
        Vector512<double> release = lanes.Release, releaseShare = lanes.ReleaseShare, attack = lanes.Attack, attackShare = lanes.AttackShare;
        Vector512<double> fast = lanes.Fast, smoothed = lanes.Smoothed;
        foreach (ref Vector256<float> row in rows)
        {
            row = Step(row, ref fast, ref smoothed, release, releaseShare, attack, attackShare);
        }

        (lanes.Fast, lanes.Smoothed) = (fast, smoothed);
    }

    /// <summary>Twice <see cref="Plain"/>; the rows of both are as many.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void PlainTwice(Span<Vector256<float>> rowsA, ref BallisticsLanes a, Span<Vector256<float>> rowsB, ref BallisticsLanes b)
    {
        Vector512<double> releaseA = a.Release, releaseShareA = a.ReleaseShare, attackA = a.Attack, attackShareA = a.AttackShare;
        Vector512<double> releaseB = b.Release, releaseShareB = b.ReleaseShare, attackB = b.Attack, attackShareB = b.AttackShare;
        Vector512<double> fastA = a.Fast, smoothedA = a.Smoothed;
        Vector512<double> fastB = b.Fast, smoothedB = b.Smoothed;
        ref Vector256<float> other = ref MemoryMarshal.GetReference(rowsB[..rowsA.Length]);
        foreach (ref Vector256<float> row in rowsA)
        {
            row = Step(row, ref fastA, ref smoothedA, releaseA, releaseShareA, attackA, attackShareA);
            other = Step(other, ref fastB, ref smoothedB, releaseB, releaseShareB, attackB, attackShareB);
            other = ref Unsafe.Add(ref other, 1);
        }

        (a.Fast, a.Smoothed) = (fastA, smoothedA);
        (b.Fast, b.Smoothed) = (fastB, smoothedB);
    }

    /// <summary>Eight channels whose release follows the programme, a row a frame, in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Adaptive(Span<Vector256<float>> rows, ref BallisticsLanes lanes)
    {
        Vector512<double> release = lanes.Release, releaseShare = lanes.ReleaseShare, attack = lanes.Attack, attackShare = lanes.AttackShare;
        Vector512<double> charge = lanes.Charge, chargeShare = lanes.ChargeShare;
        Vector512<double> discharge = lanes.Discharge, dischargeShare = lanes.DischargeShare;
        Vector512<double> fast = lanes.Fast, slow = lanes.Slow, smoothed = lanes.Smoothed;
        foreach (ref Vector256<float> row in rows)
        {
            fast = Released(EightRows.Widen(row), fast, release, releaseShare);
            slow = Vector512.MaxNative(
                Vector512.FusedMultiplyAdd(charge, slow, chargeShare * fast),
                Vector512.FusedMultiplyAdd(discharge, slow, dischargeShare * fast));
            smoothed = Vector512.FusedMultiplyAdd(attack, smoothed, attackShare * Vector512.MaxNative(fast, slow));
            row = EightRows.Narrow(smoothed);
        }

        (lanes.Fast, lanes.Slow, lanes.Smoothed) = (fast, slow, smoothed);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Step(
        Vector256<float> row,
        ref Vector512<double> fast,
        ref Vector512<double> smoothed,
        Vector512<double> release,
        Vector512<double> releaseShare,
        Vector512<double> attack,
        Vector512<double> attackShare)
    {
        fast = Released(EightRows.Widen(row), fast, release, releaseShare);
        smoothed = Vector512.FusedMultiplyAdd(attack, smoothed, attackShare * fast);
        return EightRows.Narrow(smoothed);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Released(
        Vector512<double> wanted, Vector512<double> fast, Vector512<double> release, Vector512<double> releaseShare) =>
        Vector512.MaxNative(wanted, Vector512.FusedMultiplyAdd(release, fast, releaseShare * wanted));
}
