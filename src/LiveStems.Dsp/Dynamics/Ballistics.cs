using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Attack and release of a gain reduction in dB, two channels side by side: the smooth decoupled detector behind the
/// gain computer of Giannoulis, Massberg, Reiss (JAES 60(6), 2012), with an optional release that depends on how long
/// the reduction lasted.
/// </summary>
/// <remarks>
/// <para>
/// Release stage: h[n] = max(x[n], αR h[n−1] + (1 − αR) x[n]). Attack stage: y[n] = αA y[n−1] + (1 − αA) h[n]. All times
/// are τ (63.2 %). An attack step follows αA alone; a release lasts about τR + τA. On a steady tone the pair reads the
/// peak (−0.008 dB at 1 kHz with 10 and 100 ms), where the branching detector reads 1.2 dB low.
/// </para>
/// <para>
/// Programme-dependent release, derived from two capacitors behind one rectifier: h above is the fast one. The slow one
/// charges towards h with <see cref="ChargeFactor"/> times the release time and discharges towards h with
/// <see cref="SlowFactor"/> times it (neither longer than <see cref="LongestMs"/>), and the attack stage follows
/// max(h, slow). A reduction of length T leaves 1 − exp(−T/τcharge) of itself to the slow one, and its own release adds
/// to that until both meet: at a release of 100 ms a peak of 10 ms leaves 10 % to recover slowly, four seconds leave all.
/// </para>
/// <para>State is double: at 3 s and 384 kHz 1 − α is 9e-7, which float would swallow.</para>
/// </remarks>
public sealed class Ballistics
{
    /// <summary>Charge time of the slow stage as a multiple of the release time.</summary>
    public const double ChargeFactor = 8;

    /// <summary>Discharge time of the slow stage as a multiple of the release time.</summary>
    public const double SlowFactor = 12;

    /// <summary>Longest discharge time of the slow stage, ms; the charge time stops in proportion.</summary>
    public const double LongestMs = 6000;

    private const double TinyDb = 1e-20;

    private State state;
    private bool adaptsToProgramme;

    /// <summary>Reduction of the two channels after the last sample, dB.</summary>
    public (double Left, double Right) ReductionDb => (state.Smoothed.ToScalar(), state.Smoothed.GetElement(1));

    /// <summary>True when both channels are in the same state, so that one of them speaks for both.</summary>
    public bool ChannelsAgree =>
        state.Hold.ChannelsAgree && state.Smoothed.ToScalar() == state.Smoothed.GetElement(1);

    /// <summary>True with the slow release stage.</summary>
    internal bool AdaptsToProgramme => adaptsToProgramme;

    /// <summary>Sets the times; the state stays.</summary>
    /// <param name="attackMs">τ of the attack, 0 or above.</param>
    /// <param name="releaseMs">τ of the release, 0 or above.</param>
    /// <param name="programmeDependent">Adds the slow release stage.</param>
    /// <param name="sampleRate">Samples a second.</param>
    public void SetTimes(double attackMs, double releaseMs, bool programmeDependent, double sampleRate)
    {
        state.Attack = new Pole(TimeConstant.Pole(attackMs, sampleRate));
        state.Hold.SetTimes(releaseMs, sampleRate);
        if (!programmeDependent)
        {
            state.Hold.Slow = Vector128<double>.Zero;
        }

        adaptsToProgramme = programmeDependent;
    }

    /// <summary>No reduction, now and before.</summary>
    public void Reset() => state.Hold.Fast = state.Hold.Slow = state.Smoothed = Vector128<double>.Zero;

    /// <summary>Puts the attack stage at a given reduction, dB; the release stage keeps what it holds.</summary>
    public void StartFrom((double Left, double Right) reductionDb) =>
        state.Smoothed = Vector128.Create(reductionDb.Left, reductionDb.Right);

    /// <summary>Sets state below 1e-20 dB to zero.</summary>
    public void FlushTinyState()
    {
        state.Hold.Flush(TinyDb);
        state.Smoothed &= Vector128.GreaterThan(state.Smoothed, Vector128.Create(TinyDb));
    }

    /// <summary>
    /// Smooths, in place, the reductions of two channels of equal length. Linked channels pass the same memory twice;
    /// it then holds the left channel's answer, and the state of both has moved.
    /// </summary>
    public void Process(Span<float> leftDb, Span<float> rightDb)
    {
        if (adaptsToProgramme)
        {
            ProgrammeDependent step = new() { State = state };
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

    /// <summary>Poles and state of one channel, 0 left and 1 right.</summary>
    internal ChannelState StateOf(int channel) => new(
        state.Hold.Release,
        state.Hold.Charge,
        state.Hold.Discharge,
        state.Attack,
        OneOf(state.Hold.Fast, channel),
        OneOf(state.Hold.Slow, channel),
        OneOf(state.Smoothed, channel));

    private static double OneOf(Vector128<double> pair, int channel) => channel == 0 ? pair.ToScalar() : pair.GetElement(1);

    /// <summary>Sets the state of one channel, or of both.</summary>
    internal void SetState(int channel, bool ofBoth, double fast, double slow, double smoothed)
    {
        state.Hold.Fast = With(state.Hold.Fast, channel, ofBoth, fast);
        state.Hold.Slow = With(state.Hold.Slow, channel, ofBoth, slow);
        state.Smoothed = With(state.Smoothed, channel, ofBoth, smoothed);
    }

    private static Vector128<double> With(Vector128<double> pair, int channel, bool ofBoth, double value) =>
        ofBoth ? Vector128.Create(value) : pair.WithElement(channel, value);

    /// <summary>What one channel knows.</summary>
    internal readonly record struct ChannelState(
        Pole Release, Pole Charge, Pole Discharge, Pole Attack, double Fast, double Slow, double Smoothed);

    private struct State
    {
        public ReleaseHold Hold;
        public Vector128<double> Smoothed;
        public Pole Attack;
    }

    private struct Plain : IStereoStep
    {
        public State State;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame) =>
            State.Smoothed = State.Attack.Step(State.Smoothed, State.Hold.NextPlain(frame));
    }

    private struct ProgrammeDependent : IStereoStep
    {
        public State State;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame) =>
            State.Smoothed = State.Attack.Step(State.Smoothed, State.Hold.NextAdaptive(frame));
    }
}
