using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// From the highest needs of a window to the reduction of a <see cref="LimiterStage"/>, two channels side by side:
/// release, then the mean that makes the gain move smoothly. One loop, so that the two recursions overlap.
/// </summary>
internal sealed class LimiterEnvelope
{
    private State state;
    private bool adaptsToProgramme;

    /// <param name="smoothing">Values in the mean.</param>
    public LimiterEnvelope(int smoothing) => state.Mean = new TriangularMean(smoothing);

    /// <summary>True when no release is left to run out.</summary>
    public bool IsAtRest => state.Hold.IsAtRest;

    /// <summary>Sets the release; the state stays.</summary>
    public void SetRelease(double releaseMs, bool adapts, double sampleRate)
    {
        state.Hold.SetTimes(releaseMs, sampleRate);
        if (!adapts)
        {
            state.Hold.Slow = Vector128<double>.Zero;
        }

        adaptsToProgramme = adapts;
    }

    /// <summary>No reduction, now and before.</summary>
    public void Reset()
    {
        state.Hold.Fast = state.Hold.Slow = Vector128<double>.Zero;
        state.Mean.Reset();
    }

    /// <summary>Both channels release from the deeper state of the two.</summary>
    public void Join() => state.Hold.Join();

    /// <summary>Lets go of what is left of a release below one grain of the mean.</summary>
    public void FlushTinyState() => state.Hold.Flush(TriangularMean.Grain / 2);

    /// <summary>
    /// Replaces the needs of two channels of equal length by their reductions. Linked channels pass the same memory
    /// twice; it then holds the left channel's answer, and the state of both has moved.
    /// </summary>
    public void Process(Span<float> leftDb, Span<float> rightDb)
    {
        if (adaptsToProgramme)
        {
            Adaptive step = new() { State = state };
            StereoRecursion.Run(ref step, leftDb, rightDb, leftDb, rightDb);
            state = step.State;
        }
        else
        {
            Plain step = new() { State = state };
            StereoRecursion.Run(ref step, leftDb, rightDb, leftDb, rightDb);
            state = step.State;
        }
    }

    private struct State
    {
        public ReleaseHold Hold;
        public TriangularMean Mean;
    }

    private struct Plain : IStereoStep
    {
        public State State;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame) => State.Mean.Next(State.Hold.NextPlain(frame));
    }

    private struct Adaptive : IStereoStep
    {
        public State State;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame) => State.Mean.Next(State.Hold.NextAdaptive(frame));
    }
}
