using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Nonlinear;
using LiveStems.Dsp.Resampling;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Saturator.SaturatorParameters;

namespace LiveStems.Processing.Processors.Saturator;

/// <summary>
/// Curves without memory (<see cref="ShapingCurve"/>) at 2 to 16 times the sample rate with antiderivative anti-aliasing.
/// </summary>
/// <remarks>
/// Order: emphasis → drive → up → <see cref="AntiderivativeShaper"/> → down → de-emphasis → high-pass at 5 Hz for the
/// curves that make DC → loudness matching and output gain.
/// </remarks>
public sealed class SaturatorProcessor : Processor
{
    /// <summary>Frames that go through the curve together.</summary>
    internal const int ChunkFrames = 64;

    private const int TiltSection = 0;
    private const int DcSection = 1;
    private const double DcHighPassHz = 5;
    private const float Loudest = 1000;

    private readonly StereoCascade before = new(1);
    private readonly StereoCascade behind = new(2);
    private Oversampler left = new(1, false, 1);
    private Oversampler right = new(1, false, 1);
    private AntiderivativeShaper shaperLeft = AntiderivativeShaper.Create(ShapingCurve.Soft, 1);
    private AntiderivativeShaper shaperRight = AntiderivativeShaper.Create(ShapingCurve.Soft, 1);
    private SaturatorLevel level = new(48_000, 0, 1);
    private Ramp drive;

    /// <summary>A saturator with every parameter at its default.</summary>
    public SaturatorProcessor()
        : base(SaturatorParameters.Description)
    {
    }

    /// <inheritdoc/>
    public override int LatencyFrames => left.LatencyFrames;

    /// <inheritdoc/>
    protected override bool SegmentsFollowControlInterval => level.Moves;

    private ShapingCurve ChosenCurve => (ShapingCurve)Choice(Curve);

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        left = new Oversampler(Choice(Oversampling) + 1, true, ChunkFrames);
        right = new Oversampler(Choice(Oversampling) + 1, true, ChunkFrames);
        shaperLeft = AntiderivativeShaper.Create(ChosenCurve, ChunkFrames * left.Factor);
        shaperRight = AntiderivativeShaper.Create(ChosenCurve, ChunkFrames * right.Factor);
        level = new SaturatorLevel(Format.SampleRate, left.LatencyFrames, GlideSteps);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        before.Reset();
        behind.Reset();
        left.Reset();
        right.Reset();
        shaperLeft.Reset();
        shaperRight.Reset();
        before.Set(TiltSection, Tilt(1));
        behind.Set(TiltSection, Tilt(-1));
        if (ChosenCurve is ShapingCurve.Asymmetric or ShapingCurve.Second)
        {
            BiquadCoefficients highPass = default;
            Butterworth.HighPass(1, DcHighPassHz, Format.SampleRate, new Span<BiquadCoefficients>(ref highPass));
            behind.Set(DcSection, StateVariableCoefficients.FromBiquad(highPass));
        }
        else
        {
            behind.Remove(DcSection);
        }

        drive = new Ramp((float)Decibels.ToAmplitude(Value(DriveDb)));
        level.Reset(Value(OutputGainDb), Value(DriveDb), IsOn(MatchLoudness));
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        drive = drive.Towards((float)Decibels.ToAmplitude(Value(DriveDb)), ControlInterval);
        level.Follow(IsOn(MatchLoudness));
        before.MoveTo(TiltSection, Tilt(1));
        before.StartGlide(ControlInterval);
        behind.MoveTo(TiltSection, Tilt(-1));
        behind.StartGlide(ControlInterval);
    }

    /// <inheritdoc/>
    protected override void OnControlStep() => level.StartInterval(Value(OutputGainDb), Value(DriveDb));

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += ChunkFrames)
        {
            StereoBlock chunk = segment.Slice(done, Math.Min(ChunkFrames, segment.Frames - done));
            ProcessChunk(chunk.Left, chunk.Right, IntervalPosition + done);
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState()
    {
        before.FlushTinyState();
        behind.FlushTinyState();
    }

    private StateVariableCoefficients Tilt(double direction) =>
        EmphasisTilt.Section(direction * Value(TiltDb), Value(TiltHz), Format.SampleRate);

    private void ProcessChunk(Span<float> soundLeft, Span<float> soundRight, int position)
    {
        Bounds.Hold(soundLeft, Loudest);
        Bounds.Hold(soundRight, Loudest);
        level.HearBefore(soundLeft, soundRight);
        before.Process(soundLeft, soundRight);
        Shape(soundLeft, left, shaperLeft, position);
        Shape(soundRight, right, shaperRight, position);
        behind.Process(soundLeft, soundRight);
        Planar.FlushTinyAndCheckFinite(soundLeft);
        Planar.FlushTinyAndCheckFinite(soundRight);
        level.HearAfter(soundLeft, soundRight);
        Ramps.Multiply(soundLeft, level.Gain, position);
        Ramps.Multiply(soundRight, level.Gain, position);
    }

    private void Shape(Span<float> sound, Oversampler oversampler, AntiderivativeShaper shaper, int position)
    {
        Ramps.Multiply(sound, drive, position);
        Span<float> high = oversampler.Up(sound);
        shaper.Process(high);
        oversampler.Down(sound);
    }
}
