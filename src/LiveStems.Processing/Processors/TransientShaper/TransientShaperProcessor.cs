using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.TransientShaper;

/// <summary>
/// Gain for the onsets of a sound and for its tails, at any level: <see cref="TransientFollowers"/>.
/// </summary>
/// <remarks>
/// Order: sound → key high-pass → louder of both channels → <see cref="PeakWindow"/> → followers → one gain for both
/// channels, so that the stereo image holds still. There is no latency: the followers rise with the onset itself.
/// </remarks>
public sealed class TransientShaperProcessor : Processor
{
    /// <summary>Frames that are worked through together.</summary>
    internal const int ChunkFrames = 256;

    private const int AttackDb = 0;
    private const int AttackMs = 1;
    private const int SustainDb = 2;
    private const int SustainMs = 3;
    private const int KeyHighPassOn = 4;
    private const int KeyHighPassHz = 5;
    private const int OutputGainDb = 6;
    private const double HighestKeyCornerShare = 0.45;

    private readonly KeyHighPass keyHighPass = new();
    private readonly float[] left = new float[ChunkFrames];
    private readonly float[] right = new float[ChunkFrames];
    private PeakWindow peak = new(0, 1);
    private TransientFollowers followers = new(1);
    private Ramp attack;
    private Ramp sustain;
    private Ramp output;
    private float deepest;
    private bool filtersKey;

    /// <summary>A transient shaper with every parameter at its default.</summary>
    public TransientShaperProcessor()
        : base(Kind)
    {
    }

    /// <summary>What the processor is.</summary>
    public static ProcessorDescription Kind { get; } = new(
        "transient-shaper",
        "Transient shaper",
        1,
        "Makes onsets harder or softer and tails longer or shorter, alike for quiet and loud hits.",
        [
            new("attackDb", "Attack", ParameterUnit.Decibels, -12, 12, 3, Taper.Linear, "Gain of onsets; half of it where the level jumps by 6 dB, all of it at large jumps."),
            new("attackMs", "Attack time", ParameterUnit.Milliseconds, 2, 200, 25, Taper.Logarithmic, "How long an onset lasts: time constant with which its gain fades."),
            new("sustainDb", "Sustain", ParameterUnit.Decibels, -12, 12, 0, Taper.Linear, "Gain of tails; half of it once the level has fallen 6 dB below what came before."),
            new("sustainMs", "Sustain time", ParameterUnit.Milliseconds, 20, 2000, 200, Taper.Logarithmic, "How slow a decay still counts as a tail: time constant with which what came before is forgotten."),
            ParameterSpec.Switch("keyHighPass", "Key high-pass", false, "Keeps low frequencies from moving the gain; the sound itself is not filtered."),
            new("keyHighPassHz", "Key high-pass frequency", ParameterUnit.Hertz, 20, 5000, 150, Taper.Logarithmic, "Corner of the key high-pass, 12 dB/oct."),
            new("outputGainDb", "Output gain", ParameterUnit.Decibels, -24, 24, 0, Taper.Linear, "Gain of everything, afterwards."),
        ],
        ListensToKey: false);

    /// <inheritdoc/>
    public override float GainReductionDb => -deepest;

    /// <inheritdoc/>
    public override ProcessorGroup? GroupOf(IReadOnlyList<Processor> members) =>
        TransientFollowersGroup.IsSupported ? new TransientShaperGroup([.. members.Cast<TransientShaperProcessor>()]) : null;

    /// <summary>The followers of its peaks.</summary>
    internal TransientFollowers Followers => followers;

    /// <summary>Peak levels, then onset ratios, then gains (left); tail ratios (right).</summary>
    internal PlanarStereo Levels => new(left, right);

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        peak = new PeakWindow(Format.SampleRate, ChunkFrames);
        followers = new TransientFollowers(Format.SampleRate);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        keyHighPass.Reset();
        peak.Reset();
        followers.Reset();
        attack = new Ramp((float)Value(AttackDb));
        sustain = new Ramp((float)Value(SustainDb));
        output = new Ramp((float)Value(OutputGainDb));
        deepest = 0;
        filtersKey = IsOn(KeyHighPassOn);
        SetSections();
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        attack = attack.Towards((float)Value(AttackDb), ControlInterval);
        sustain = sustain.Towards((float)Value(SustainDb), ControlInterval);
        output = output.Towards((float)Value(OutputGainDb), ControlInterval);
        if (IsOn(KeyHighPassOn) && !filtersKey)
        {
            keyHighPass.Reset();
        }

        filtersKey = IsOn(KeyHighPassOn);
        SetSections();
    }

    /// <inheritdoc/>
    protected override void OnBlockStart() => deepest = 0;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += ChunkFrames)
        {
            ProcessChunk(segment.Slice(done, Math.Min(ChunkFrames, segment.Frames - done)), IntervalPosition + done);
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState()
    {
        keyHighPass.FlushTinyState();
        followers.FlushTinyState();
    }

    private void SetSections()
    {
        keyHighPass.SetCorner(Math.Min(Value(KeyHighPassHz), HighestKeyCornerShare * Format.SampleRate), Format.SampleRate);
        followers.SetTimes(Value(AttackMs), Value(SustainMs));
    }

    private void ProcessChunk(in StereoBlock chunk, int position)
    {
        FindPeaks(chunk);
        followers.Follow(left.AsSpan(0, chunk.Frames), left.AsSpan(0, chunk.Frames), right.AsSpan(0, chunk.Frames));
        ApplyGain(chunk, position);
    }

    /// <summary>First part of a chunk: the peak levels of what it listens to.</summary>
    internal void FindPeaks(in StereoBlock chunk)
    {
        int frames = chunk.Frames;
        Span<float> peaks = left.AsSpan(0, frames);
        Span<float> others = right.AsSpan(0, frames);
        if (filtersKey)
        {
            keyHighPass.Process(chunk.KeyLeft, chunk.KeyRight, peaks, others);
        }
        else
        {
            chunk.KeyLeft.CopyTo(peaks);
            chunk.KeyRight.CopyTo(others);
        }

        TakeLouder(peaks, others);
        peak.Process(peaks);
    }

    /// <summary>Last part of a chunk, when the followers have made ratios of the levels.</summary>
    internal void ApplyGain(in StereoBlock chunk, int position)
    {
        int frames = chunk.Frames;
        int padded = (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count;
        left.AsSpan(frames, padded - frames).Fill(1);
        right.AsSpan(frames, padded - frames).Fill(1);
        Span<float> reductions = left.AsSpan(0, padded);
        TransientFollowers.ToReduction(reductions, right.AsSpan(0, padded), attack, sustain, position);
        deepest = Math.Max(deepest, GainStage.FromReduction(reductions, output, position, reductions, frames));
        GainStage.Apply(chunk.Left, reductions);
        GainStage.Apply(chunk.Right, reductions);
    }

    // What is no number on the right gives way to the left, and stays for the peak window to pass over on the left.
    private static void TakeLouder(Span<float> peaks, ReadOnlySpan<float> others)
    {
        int i = 0;
        for (; i <= peaks.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> one = Vector256.Create<float>(peaks[i..]);
            Vector256<float> other = Vector256.Create(others[i..]);
            Vector256.ConditionalSelect(Vector256.GreaterThan(Vector256.Abs(other), Vector256.Abs(one)), other, one).CopyTo(peaks[i..]);
        }

        for (; i < peaks.Length; i++)
        {
            peaks[i] = Math.Abs(others[i]) > Math.Abs(peaks[i]) ? others[i] : peaks[i];
        }
    }
}
