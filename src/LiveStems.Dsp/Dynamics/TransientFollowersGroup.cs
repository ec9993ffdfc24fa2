using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Runs several <see cref="TransientFollowers"/> over peak levels of their own, eight at a time in the lanes of a vector: the
/// recursion, which alone waits for itself most of the time, then costs little more than one. Each gives the same bits as
/// alone. Allocates in the constructor only; not for use from two threads.
/// </summary>
public sealed class TransientFollowersGroup
{
    private const int Lanes = 8;

    private readonly TransientFollowers[] members;
    private readonly float[] idle;
    private readonly Vector256<float>[] onsets = new Vector256<float>[Lanes];
    private readonly Vector256<float>[] tails = new Vector256<float>[Lanes];
    private readonly double[] lanes = new double[7 * Lanes];

    /// <summary>A group of followers, which go on to belong to whoever made them.</summary>
    /// <param name="members">The followers.</param>
    /// <param name="maximumFrames">The longest run handed over at once, a multiple of eight.</param>
    public TransientFollowersGroup(IReadOnlyList<TransientFollowers> members, int maximumFrames)
    {
        this.members = [.. members];
        idle = new float[maximumFrames];
    }

    /// <summary>True where it is faster than one after the other.</summary>
    public static bool IsSupported => EightRows.IsSupported;

    /// <summary>From peak levels to the ratios f/s, in their place, and h/f.</summary>
    /// <param name="sounds">
    /// For each member the peak levels (left), which become onset ratios, and where its tail ratios go (right); a multiple of
    /// eight long, and what lies behind the frames does not count.
    /// </param>
    /// <param name="frames">Frames that count.</param>
    public void Follow(ReadOnlySpan<PlanarStereo> sounds, int frames)
    {
        for (int first = 0; first < members.Length; first += Lanes)
        {
            int count = Math.Min(Lanes, members.Length - first);
            Load(members.AsSpan(first, count));
            Run(sounds.Slice(first, count), frames);
            Keep(members.AsSpan(first, count));
        }
    }

    private void Load(ReadOnlySpan<TransientFollowers> eight)
    {
        Array.Clear(lanes);
        for (int lane = 0; lane < eight.Length; lane++)
        {
            (Lane(0, lane), Lane(1, lane), Lane(2, lane), Lane(3, lane)) = eight[lane].Times;
            (Lane(4, lane), Lane(5, lane), Lane(6, lane)) = eight[lane].State;
        }
    }

    private void Keep(ReadOnlySpan<TransientFollowers> eight)
    {
        for (int lane = 0; lane < eight.Length; lane++)
        {
            eight[lane].State = (Lane(4, lane), Lane(5, lane), Lane(6, lane));
        }
    }

    private ref double Lane(int row, int lane) => ref lanes[row * Lanes + lane];

    private Vector512<double> Row(int row) => Vector512.LoadUnsafe(ref lanes[row * Lanes]);

    // Lanes without a member work on memory that nobody looks at.
    private ref float Onsets(ReadOnlySpan<PlanarStereo> sounds, int lane) => ref MemoryMarshal.GetArrayDataReference(lane < sounds.Length ? sounds[lane].Left : idle);

    private ref float Tails(ReadOnlySpan<PlanarStereo> sounds, int lane) => ref MemoryMarshal.GetArrayDataReference(lane < sounds.Length ? sounds[lane].Right : idle);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Run(ReadOnlySpan<PlanarStereo> sounds, int frames)
    {
        Vector512<double> riseShare = Row(0), fallShare = Row(1), slowShare = Row(2), heldPole = Row(3);
        Vector512<double> fast = Row(4), slow = Row(5), held = Row(6);
        Vector512<double> silence = Vector512.Create(TransientFollowers.Silence);
        ref Vector256<float> onset = ref onsets[0];
        ref Vector256<float> tail = ref tails[0];
        for (int n = 0; n < frames; n += Lanes)
        {
            Turn(sounds, n, ref onset);

            // The state must stand where the frames end.
            int count = Math.Min(Lanes, frames - n);
            for (int i = 0; i < count; i++)
            {
                Vector512<double> rise = EightRows.Widen(Unsafe.Add(ref onset, i)) - fast;
                Vector512<double> share = Vector512.ConditionalSelect(Vector512.GreaterThan(rise, Vector512<double>.Zero), riseShare, fallShare);
                fast = Vector512.FusedMultiplyAdd(share, rise, fast);
                slow = Vector512.FusedMultiplyAdd(slowShare, fast - slow, slow);
                held = Vector512.MaxNative(fast, Vector512.FusedMultiplyAdd(heldPole, held - fast, fast));
                Vector512<double> level = fast + silence;
                Unsafe.Add(ref onset, i) = EightRows.Narrow(level / (slow + silence));
                Unsafe.Add(ref tail, i) = EightRows.Narrow((held + silence) / level);
            }

            TurnBack(sounds, n, ref onset, areTails: false);
            TurnBack(sounds, n, ref tail, areTails: true);
        }

        fast.StoreUnsafe(ref Lane(4, 0));
        slow.StoreUnsafe(ref Lane(5, 0));
        held.StoreUnsafe(ref Lane(6, 0));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Turn(ReadOnlySpan<PlanarStereo> sounds, int n, ref Vector256<float> rows)
    {
        for (int lane = 0; lane < Lanes; lane++)
        {
            Unsafe.Add(ref rows, lane) = Vector256.LoadUnsafe(ref Onsets(sounds, lane), (nuint)n);
        }

        Turn(ref rows);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void TurnBack(ReadOnlySpan<PlanarStereo> sounds, int n, ref Vector256<float> rows, bool areTails)
    {
        Turn(ref rows);
        for (int lane = 0; lane < sounds.Length; lane++)
        {
            ref float memory = ref areTails ? ref Tails(sounds, lane) : ref Onsets(sounds, lane);
            Unsafe.Add(ref rows, lane).StoreUnsafe(ref memory, (nuint)n);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Turn(ref Vector256<float> rows) => EightRows.Turn(
        ref rows,
        ref Unsafe.Add(ref rows, 1),
        ref Unsafe.Add(ref rows, 2),
        ref Unsafe.Add(ref rows, 3),
        ref Unsafe.Add(ref rows, 4),
        ref Unsafe.Add(ref rows, 5),
        ref Unsafe.Add(ref rows, 6),
        ref Unsafe.Add(ref rows, 7));
}
