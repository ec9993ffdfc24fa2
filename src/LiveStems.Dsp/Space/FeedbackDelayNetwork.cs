using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Space;

/// <summary>
/// The late part of a room for one channel: eight delay lines that feed each other through a Hadamard matrix.
/// </summary>
/// <remarks>
/// <para>
/// J. Stautner and M. Puckette, Computer Music Journal 6 (1982); J.-M. Jot and A. Chaigne, AES 90th Convention, 1991. The matrix
/// is orthogonal, so the lines lose energy to <see cref="LineAbsorption"/> alone, and every line reaches all others in one pass. Each
/// line's filter loses at all frequencies, so the loop is stable for every setting, and while settings move: it shrinks the sum of
/// squares apart from the filters' own state, whose pole lies inside the unit circle.
/// </para>
/// <para>
/// The eight lines lie side by side in the lanes of a vector. The matrix is three steps of sums and differences with the lane 1, 2 and 4 away; its
/// first row is the sum of all lines, which is the output.
/// </para>
/// </remarks>
internal sealed class FeedbackDelayNetwork
{
    /// <summary>Delay lines.</summary>
    public const int Lines = 8;

    private const float Normalisation = 0.353553391f;

    /// <summary>
    /// Polarities with which a sound enters the lines. No row of the Hadamard matrix, so that no first echo cancels at the output.
    /// </summary>
    public static readonly Vector256<float> MiddleSigns = Vector256.Create(1f, 1, -1, 1, -1, -1, 1, 1);

    /// <summary>
    /// Others, which add up to 0: at low frequencies the first echoes of two networks then have little in common, and the sum of
    /// both is no louder than their difference.
    /// </summary>
    public static readonly Vector256<float> SideSigns = Vector256.Create(1f, -1, 1, 1, -1, -1, 1, -1);

    private readonly Vector256<float> signs;
    private readonly int[] frames;
    private readonly float[] ring;
    private readonly int mask;
    private Vector256<float> filters;
    private LineAbsorption from;
    private LineAbsorption to;
    private int position;

    /// <summary>Lines of eight given lengths in frames, from 1, with the polarities that a sound enters them with.</summary>
    public FeedbackDelayNetwork(ReadOnlySpan<int> frames, Vector256<float> signs)
    {
        this.signs = signs;
        this.frames = frames[..Lines].ToArray();
        int length = (int)BitOperations.RoundUpToPowerOf2((uint)this.frames.Max() + 1);
        ring = Unmoved.Array<float>(length * Lines);
        mask = length - 1;
    }

    /// <summary>Lengths of the lines, frames.</summary>
    public ReadOnlySpan<int> Frames => frames;

    /// <summary>Takes an absorption at once.</summary>
    public void Jump(in LineAbsorption absorption) => from = to = absorption;

    /// <summary>Goes to another absorption over the next interval.</summary>
    public void Move(in LineAbsorption absorption)
    {
        from = to;
        to = absorption;
    }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        Array.Clear(ring);
        filters = Vector256<float>.Zero;
        position = 0;
    }

    /// <summary>Writes the room's answer to a sound of the same length.</summary>
    /// <param name="sound">What goes in.</param>
    /// <param name="answer">What comes out; other memory than the sound.</param>
    /// <param name="place">Place of the first frame in the interval of a move.</param>
    /// <param name="interval">Frames of that interval.</param>
    public void Process(ReadOnlySpan<float> sound, Span<float> answer, int place, int interval)
    {
        bool moves = from != to;
        LineAbsorption loss = to;
        Vector256<float> state = filters;
        Vector256<float> enter = signs;
        Vector256<float> tiny = Vector256.Create(1e-20f);
        ref float start = ref MemoryMarshal.GetArrayDataReference(ring);
        for (int n = 0; n < sound.Length; n++)
        {
            if (moves)
            {
                loss = LineAbsorption.Between(from, to, (place + n + 1) / (float)interval);
            }

            Vector256<float> ends = Read(ref start);
            Vector256<float> heard = Vector256.FusedMultiplyAdd(loss.B0, ends, state);
            state = Vector256.FusedMultiplyAdd(loss.B1, ends, -(loss.A1 * heard));
            state &= Vector256.GreaterThan(Vector256.Abs(state), tiny);
            Vector256<float> mixed = Mix(heard);
            answer[n] = mixed.ToScalar();
            Vector256<float> next = Vector256.FusedMultiplyAdd(enter, Vector256.Create(sound[n] * loss.Injection), mixed);
            next &= Vector256.GreaterThan(Vector256.Abs(next), tiny);
            next.StoreUnsafe(ref start, (nuint)(position * Lines));
            position = (position + 1) & mask;
        }

        filters = state;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector256<float> Read(ref float start)
    {
        int[] d = frames;
        return Vector256.Create(
            At(ref start, d[0], 0), At(ref start, d[1], 1), At(ref start, d[2], 2), At(ref start, d[3], 3),
            At(ref start, d[4], 4), At(ref start, d[5], 5), At(ref start, d[6], 6), At(ref start, d[7], 7));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private float At(ref float start, int delay, int line) =>
        Unsafe.Add(ref start, (nint)(((position - delay) & mask) * Lines + line));

    /// <summary>The Hadamard matrix of order 8, orthonormal.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector256<float> Mix(Vector256<float> x)
    {
        Vector256<float> y = Vector256.FusedMultiplyAdd(
            x, Vector256.Create(1f, -1, 1, -1, 1, -1, 1, -1), Vector256.Shuffle(x, Vector256.Create(1, 0, 3, 2, 5, 4, 7, 6)));
        y = Vector256.FusedMultiplyAdd(
            y, Vector256.Create(1f, 1, -1, -1, 1, 1, -1, -1), Vector256.Shuffle(y, Vector256.Create(2, 3, 0, 1, 6, 7, 4, 5)));
        y = Vector256.FusedMultiplyAdd(
            y, Vector256.Create(1f, 1, 1, 1, -1, -1, -1, -1), Vector256.Shuffle(y, Vector256.Create(4, 5, 6, 7, 0, 1, 2, 3)));
        return y * Normalisation;
    }
}
