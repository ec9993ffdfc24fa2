using System.Runtime.Intrinsics;
using LiveStems.Dsp;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// What stands last before the ears: nothing that is not finite passes, and nothing louder than the ceiling. It cannot be
/// switched off.
/// </summary>
/// <remarks>
/// <para>
/// A <see cref="SampleGuard"/> before a look-ahead limiter that sees the waveform between the samples
/// (<see cref="LimiterStage"/>), both sides linked. No sample passes the ceiling by more than the rounding of its gain,
/// 0.001 dB, whatever comes in. Between samples, with PrecisePeakMeter as the judge, none of 240 hostile sounds at four
/// sample rates (noise, random signs, turning alternation, gated tones, squares, up to +60 dB) passed it at all.
/// </para>
/// <para>
/// While the ceiling moves, sound that is already inside keeps to the ceiling it came in under.
/// </para>
/// </remarks>
internal sealed class SafetyLimiter
{
    private const double SmoothingSeconds = 0.00064;
    private const int HoldFrames = 4;
    private const int PeakHalfLength = 32;
    private const double PeakKaiserBeta = 4;
    private const double ReleaseMs = 80;

    private readonly SampleGuard guard;
    private readonly LimiterStage limiter;
    private readonly float[] reductions;
    private readonly int stepFrames;
    private Glide ceilingDb;
    private Ramp ceiling;
    private float lowestCeiling;
    private int position;

    public SafetyLimiter(int sampleRate, int stepFrames, int fadeFrames)
    {
        this.stepFrames = stepFrames;
        guard = new(fadeFrames);
        int smoothing = Math.Max(2, (int)Math.Round(SmoothingSeconds * sampleRate));
        limiter = new(new LimiterStageShape(smoothing, HoldFrames, 0, PeakHalfLength, PeakKaiserBeta, IsExact: true), stepFrames);
        limiter.SetRelease(ReleaseMs, adaptsToProgramme: false, sampleRate);
        reductions = new float[stepFrames + Vector256<float>.Count];
    }

    /// <summary>Frames between input and output; at most 1.5 ms from 44.1 kHz up.</summary>
    public int LatencyFrames => limiter.DelaySamples;

    /// <summary>Samples that were not finite, so far; readable from any thread.</summary>
    public long Caught => guard.Caught;

    /// <summary>State as if from silence, with this ceiling at once.</summary>
    public void Reset(double ceilingDbfs)
    {
        ceilingDb.Jump(ceilingDbfs);
        ceiling = new((float)ceilingDbfs);
        lowestCeiling = (float)Decibels.ToAmplitude(ceilingDbfs);
        position = 0;
        guard.Reset();
        limiter.Reset();
    }

    /// <summary>Sets off for another ceiling.</summary>
    public void MoveTo(double ceilingDbfs, int frames) => ceilingDb.MoveTo(ceilingDbfs, frames);

    /// <summary>Begins a control step.</summary>
    public void StartStep()
    {
        ceiling = ceiling.Towards((float)ceilingDb.Advance(stepFrames), stepFrames);
        lowestCeiling = (float)Decibels.ToAmplitude(Math.Min(ceiling.Start, ceiling.Target));
        position = 0;
    }

    /// <summary>Limits a part of a control step, in place; returns the deepest reduction in dB, 0 or above.</summary>
    public float Process(Span<float> left, Span<float> right)
    {
        guard.Process(left, right);
        Planar.FlushTinyAndCheckFinite(left);
        Planar.FlushTinyAndCheckFinite(right);
        limiter.Process(left, right, ceiling, lowestCeiling, position);
        limiter.WriteDeeper(reductions, left.Length);
        position += left.Length;
        float deepest = 0;
        foreach (float reduction in reductions.AsSpan(0, left.Length))
        {
            deepest = reduction > deepest ? reduction : deepest;
        }

        return deepest;
    }

    /// <summary>Ends a control step.</summary>
    public void EndStep() => limiter.FlushTinyState();
}
