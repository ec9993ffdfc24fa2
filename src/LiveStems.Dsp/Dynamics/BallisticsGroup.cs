using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Runs several <see cref="Ballistics"/> over reductions of their own, eight channels at a time in the lanes of a vector:
/// the recursion, which alone waits for itself most of the time, then costs next to nothing. Each gives the same bits as
/// alone. Allocates in the constructor only; not for use from two threads.
/// </summary>
public sealed class BallisticsGroup
{
    private const int Lanes = 8;

    private readonly Ballistics[] members;
    private readonly float[] idle;
    private readonly Lane[] lanes;
    private readonly Vector256<float>[] square = new Vector256<float>[Lanes];
    private int laneCount;

    /// <summary>A group of ballistics, which go on to belong to whoever made them.</summary>
    /// <param name="members">The ballistics.</param>
    /// <param name="maximumFrames">The longest run handed over at once, a multiple of eight.</param>
    public BallisticsGroup(IReadOnlyList<Ballistics> members, int maximumFrames)
    {
        this.members = [.. members];
        idle = new float[maximumFrames];
        lanes = new Lane[2 * members.Count];
    }

    /// <summary>True where it is faster than one after the other.</summary>
    public static bool IsSupported => EightRows.IsSupported;

    /// <summary>
    /// Smooths, in place, the reductions of every member's two channels; linked channels pass the same memory twice. The
    /// memory must be a multiple of eight long; what lies behind the frames does not count.
    /// </summary>
    /// <param name="reductions">The reductions, in the order of the members.</param>
    /// <param name="frames">Frames that count.</param>
    public void Process(ReadOnlySpan<PlanarStereo> reductions, int frames)
    {
        Run(reductions, frames, programmeDependent: false);
        Run(reductions, frames, programmeDependent: true);
    }

    private void Run(ReadOnlySpan<PlanarStereo> reductions, int frames, bool programmeDependent)
    {
        laneCount = 0;
        for (int i = 0; i < members.Length; i++)
        {
            if (members[i].AdaptsToProgramme == programmeDependent)
            {
                AddLanes(reductions[i], members[i]);
            }
        }

        for (int first = 0; first < laneCount; first += Lanes)
        {
            Span<Lane> eight = lanes.AsSpan(first, Math.Min(Lanes, laneCount - first));
            if (programmeDependent)
            {
                RunAdaptive(eight, frames);
            }
            else
            {
                RunPlain(eight, frames);
            }
        }
    }

    private void AddLanes(in PlanarStereo reductions, Ballistics member)
    {
        bool isLinked = ReferenceEquals(reductions.Left, reductions.Right);
        lanes[laneCount++] = new Lane(member, 0, isLinked, reductions.Left);
        if (!isLinked)
        {
            lanes[laneCount++] = new Lane(member, 1, false, reductions.Right);
        }
    }

    // Lanes without a member work on memory that nobody looks at.
    private ref float Memory(ReadOnlySpan<Lane> eight, int lane) =>
        ref MemoryMarshal.GetArrayDataReference(lane < eight.Length ? eight[lane].Memory : idle);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void RunPlain(ReadOnlySpan<Lane> eight, int frames)
    {
        LaneStates lanes = new(eight);
        Vector512<double> release = lanes.Release, releaseShare = lanes.ReleaseShare;
        Vector512<double> attack = lanes.Attack, attackShare = lanes.AttackShare;
        Vector512<double> fast = lanes.Fast, smoothed = lanes.Smoothed;
        ref float m0 = ref Memory(eight, 0), m1 = ref Memory(eight, 1), m2 = ref Memory(eight, 2), m3 = ref Memory(eight, 3);
        ref float m4 = ref Memory(eight, 4), m5 = ref Memory(eight, 5), m6 = ref Memory(eight, 6), m7 = ref Memory(eight, 7);
        ref Vector256<float> turned = ref square[0];
        for (int n = 0; n < frames; n += Lanes)
        {
            Vector256<float> r0 = Vector256.LoadUnsafe(ref m0, (nuint)n), r1 = Vector256.LoadUnsafe(ref m1, (nuint)n);
            Vector256<float> r2 = Vector256.LoadUnsafe(ref m2, (nuint)n), r3 = Vector256.LoadUnsafe(ref m3, (nuint)n);
            Vector256<float> r4 = Vector256.LoadUnsafe(ref m4, (nuint)n), r5 = Vector256.LoadUnsafe(ref m5, (nuint)n);
            Vector256<float> r6 = Vector256.LoadUnsafe(ref m6, (nuint)n), r7 = Vector256.LoadUnsafe(ref m7, (nuint)n);
            EightRows.Turn(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            Put(ref turned, r0, r1, r2, r3, r4, r5, r6, r7);

            // The state must stand where the frames end.
            int count = Math.Min(Lanes, frames - n);
            for (int i = 0; i < count; i++)
            {
                Vector512<double> wanted = EightRows.Widen(Unsafe.Add(ref turned, i));
                fast = Vector512.MaxNative(wanted, Vector512.FusedMultiplyAdd(release, fast, releaseShare * wanted));
                smoothed = Vector512.FusedMultiplyAdd(attack, smoothed, attackShare * fast);
                Unsafe.Add(ref turned, i) = EightRows.Narrow(smoothed);
            }

            (r0, r1, r2, r3) = (turned, Unsafe.Add(ref turned, 1), Unsafe.Add(ref turned, 2), Unsafe.Add(ref turned, 3));
            (r4, r5, r6, r7) = (Unsafe.Add(ref turned, 4), Unsafe.Add(ref turned, 5), Unsafe.Add(ref turned, 6), Unsafe.Add(ref turned, 7));
            EightRows.Turn(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            r0.StoreUnsafe(ref m0, (nuint)n);
            r1.StoreUnsafe(ref m1, (nuint)n);
            r2.StoreUnsafe(ref m2, (nuint)n);
            r3.StoreUnsafe(ref m3, (nuint)n);
            r4.StoreUnsafe(ref m4, (nuint)n);
            r5.StoreUnsafe(ref m5, (nuint)n);
            r6.StoreUnsafe(ref m6, (nuint)n);
            r7.StoreUnsafe(ref m7, (nuint)n);
        }

        (lanes.Fast, lanes.Smoothed) = (fast, smoothed);
        lanes.Keep(eight);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void RunAdaptive(ReadOnlySpan<Lane> eight, int frames)
    {
        LaneStates lanes = new(eight);
        Vector512<double> release = lanes.Release, releaseShare = lanes.ReleaseShare;
        Vector512<double> attack = lanes.Attack, attackShare = lanes.AttackShare;
        Vector512<double> charge = lanes.Charge, chargeShare = lanes.ChargeShare;
        Vector512<double> discharge = lanes.Discharge, dischargeShare = lanes.DischargeShare;
        Vector512<double> fast = lanes.Fast, slow = lanes.Slow, smoothed = lanes.Smoothed;
        ref float m0 = ref Memory(eight, 0), m1 = ref Memory(eight, 1), m2 = ref Memory(eight, 2), m3 = ref Memory(eight, 3);
        ref float m4 = ref Memory(eight, 4), m5 = ref Memory(eight, 5), m6 = ref Memory(eight, 6), m7 = ref Memory(eight, 7);
        ref Vector256<float> turned = ref square[0];
        for (int n = 0; n < frames; n += Lanes)
        {
            Vector256<float> r0 = Vector256.LoadUnsafe(ref m0, (nuint)n), r1 = Vector256.LoadUnsafe(ref m1, (nuint)n);
            Vector256<float> r2 = Vector256.LoadUnsafe(ref m2, (nuint)n), r3 = Vector256.LoadUnsafe(ref m3, (nuint)n);
            Vector256<float> r4 = Vector256.LoadUnsafe(ref m4, (nuint)n), r5 = Vector256.LoadUnsafe(ref m5, (nuint)n);
            Vector256<float> r6 = Vector256.LoadUnsafe(ref m6, (nuint)n), r7 = Vector256.LoadUnsafe(ref m7, (nuint)n);
            EightRows.Turn(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            Put(ref turned, r0, r1, r2, r3, r4, r5, r6, r7);
            int count = Math.Min(Lanes, frames - n);
            for (int i = 0; i < count; i++)
            {
                Vector512<double> wanted = EightRows.Widen(Unsafe.Add(ref turned, i));
                fast = Vector512.MaxNative(wanted, Vector512.FusedMultiplyAdd(release, fast, releaseShare * wanted));
                slow = Vector512.MaxNative(
                    Vector512.FusedMultiplyAdd(charge, slow, chargeShare * fast),
                    Vector512.FusedMultiplyAdd(discharge, slow, dischargeShare * fast));
                smoothed = Vector512.FusedMultiplyAdd(attack, smoothed, attackShare * Vector512.MaxNative(fast, slow));
                Unsafe.Add(ref turned, i) = EightRows.Narrow(smoothed);
            }

            (r0, r1, r2, r3) = (turned, Unsafe.Add(ref turned, 1), Unsafe.Add(ref turned, 2), Unsafe.Add(ref turned, 3));
            (r4, r5, r6, r7) = (Unsafe.Add(ref turned, 4), Unsafe.Add(ref turned, 5), Unsafe.Add(ref turned, 6), Unsafe.Add(ref turned, 7));
            EightRows.Turn(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            r0.StoreUnsafe(ref m0, (nuint)n);
            r1.StoreUnsafe(ref m1, (nuint)n);
            r2.StoreUnsafe(ref m2, (nuint)n);
            r3.StoreUnsafe(ref m3, (nuint)n);
            r4.StoreUnsafe(ref m4, (nuint)n);
            r5.StoreUnsafe(ref m5, (nuint)n);
            r6.StoreUnsafe(ref m6, (nuint)n);
            r7.StoreUnsafe(ref m7, (nuint)n);
        }

        (lanes.Fast, lanes.Slow, lanes.Smoothed) = (fast, slow, smoothed);
        lanes.Keep(eight);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Put(
        ref Vector256<float> square,
        Vector256<float> r0,
        Vector256<float> r1,
        Vector256<float> r2,
        Vector256<float> r3,
        Vector256<float> r4,
        Vector256<float> r5,
        Vector256<float> r6,
        Vector256<float> r7)
    {
        (square, Unsafe.Add(ref square, 1), Unsafe.Add(ref square, 2), Unsafe.Add(ref square, 3)) = (r0, r1, r2, r3);
        (Unsafe.Add(ref square, 4), Unsafe.Add(ref square, 5), Unsafe.Add(ref square, 6), Unsafe.Add(ref square, 7)) = (r4, r5, r6, r7);
    }

    private readonly record struct Lane(Ballistics Member, int Channel, bool IsLinked, float[] Memory);

    // Poles and states of eight channels side by side.
    private struct LaneStates
    {
        public Vector512<double> Release, ReleaseShare, Charge, ChargeShare, Discharge, DischargeShare, Attack, AttackShare;
        public Vector512<double> Fast, Slow, Smoothed;

        public LaneStates(ReadOnlySpan<Lane> eight)
        {
            for (int i = 0; i < eight.Length; i++)
            {
                Ballistics.ChannelState state = eight[i].Member.StateOf(eight[i].Channel);
                Set(ref Release, i, state.Release.Alpha);
                Set(ref ReleaseShare, i, state.Release.Share);
                Set(ref Charge, i, state.Charge.Alpha);
                Set(ref ChargeShare, i, state.Charge.Share);
                Set(ref Discharge, i, state.Discharge.Alpha);
                Set(ref DischargeShare, i, state.Discharge.Share);
                Set(ref Attack, i, state.Attack.Alpha);
                Set(ref AttackShare, i, state.Attack.Share);
                Set(ref Fast, i, state.Fast);
                Set(ref Slow, i, state.Slow);
                Set(ref Smoothed, i, state.Smoothed);
            }
        }

        public readonly void Keep(ReadOnlySpan<Lane> eight)
        {
            for (int i = 0; i < eight.Length; i++)
            {
                eight[i].Member.SetState(eight[i].Channel, eight[i].IsLinked, Get(in Fast, i), Get(in Slow, i), Get(in Smoothed, i));
            }
        }

        private static double Get(in Vector512<double> lanes, int lane) =>
            Unsafe.Add(ref Unsafe.As<Vector512<double>, double>(ref Unsafe.AsRef(in lanes)), lane);

        private static void Set(ref Vector512<double> lanes, int lane, double value) =>
            Unsafe.Add(ref Unsafe.As<Vector512<double>, double>(ref lanes), lane) = value;
    }
}
