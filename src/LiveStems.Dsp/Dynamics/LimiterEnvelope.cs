using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// From the highest needs of a window to the reduction of a <see cref="LimiterStage"/>, two channels side by side:
/// release, then the mean that makes the gain move smoothly.
/// </summary>
internal sealed class LimiterEnvelope
{
    private readonly TriangularMean meanLeft;
    private readonly TriangularMean meanRight;
    private readonly double[] heldLeft;
    private readonly double[] heldRight;
    private ReleaseHold hold;
    private bool adaptsToProgramme;

    /// <param name="smoothing">Values in the mean.</param>
    /// <param name="maximumFrames">The longest run handed over at once.</param>
    public LimiterEnvelope(int smoothing, int maximumFrames)
    {
        meanLeft = new TriangularMean(smoothing, maximumFrames);
        meanRight = new TriangularMean(smoothing, maximumFrames);
        heldLeft = new double[maximumFrames];
        heldRight = new double[maximumFrames];
    }

    /// <summary>True when no release is left to run out.</summary>
    public bool IsAtRest => hold.IsAtRest;

    /// <summary>Sets the release; the state stays.</summary>
    public void SetRelease(double releaseMs, bool adapts, double sampleRate)
    {
        hold.SetTimes(releaseMs, sampleRate);
        if (!adapts)
        {
            hold.Slow = Vector128<double>.Zero;
        }

        adaptsToProgramme = adapts;
    }

    /// <summary>No reduction, now and before.</summary>
    public void Reset()
    {
        hold.Fast = hold.Slow = Vector128<double>.Zero;
        meanLeft.Reset();
        meanRight.Reset();
    }

    /// <summary>Both channels release from the deeper state of the two.</summary>
    public void Join() => hold.Join();

    /// <summary>The right mean goes on from where the left one stands, which alone was kept up while both were one.</summary>
    public void Part() => meanRight.CopyFrom(meanLeft);

    /// <summary>Lets go of what is left of a release below one grain of the mean.</summary>
    public void FlushTinyState() => hold.Flush(TriangularMean.Grain / 2);

    /// <summary>
    /// Replaces the needs of two channels of equal length by their reductions. Channels that are one pass the same memory
    /// twice; the right mean is not kept up then (<see cref="Part"/>).
    /// </summary>
    public void Process(Span<float> leftDb, Span<float> rightDb)
    {
        bool isOne = leftDb == rightDb;
        Span<double> left = heldLeft.AsSpan(0, leftDb.Length);
        Span<double> right = isOne ? left : heldRight.AsSpan(0, leftDb.Length);
        if (adaptsToProgramme)
        {
            Adaptive step = new() { Hold = hold };
            StereoRecursion.Run(ref step, leftDb, rightDb, left, right);
            hold = step.Hold;
        }
        else if (hold.Release.Alpha == 0)
        {
            // Without a release what is held is what is needed.
            Widen(leftDb, left);
            Widen(rightDb, right);
            hold.Fast = Vector128.Create(left[^1], right[^1]);
        }
        else
        {
            Plain step = new() { Hold = hold };
            StereoRecursion.Run(ref step, leftDb, rightDb, left, right);
            hold = step.Hold;
        }

        meanLeft.Process(left, leftDb);
        if (!isOne)
        {
            meanRight.Process(right, rightDb);
        }
    }

    private static void Widen(ReadOnlySpan<float> from, Span<double> to)
    {
        ref float first = ref MemoryMarshal.GetReference(from);
        ref double target = ref MemoryMarshal.GetReference(to[..from.Length]);
        int i = 0;
        for (; i <= from.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            (Vector256<double> lower, Vector256<double> upper) = Vector256.Widen(Vector256.LoadUnsafe(ref first, (nuint)i));
            lower.StoreUnsafe(ref target, (nuint)i);
            upper.StoreUnsafe(ref target, (nuint)i + 4);
        }

        for (; i < from.Length; i++)
        {
            to[i] = from[i];
        }
    }

    private struct Plain : IStereoStep
    {
        public ReleaseHold Hold;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame) => Hold.NextPlain(frame);
    }

    private struct Adaptive : IStereoStep
    {
        public ReleaseHold Hold;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame) => Hold.NextAdaptive(frame);
    }
}
