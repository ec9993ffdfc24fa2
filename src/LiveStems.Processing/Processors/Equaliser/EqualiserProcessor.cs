using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Equaliser.EqualiserParameters;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>
/// Twelve bands in series, each true to its analogue prototype up to Nyquist (<see cref="MatchedDesign"/>): minimum phase
/// without latency, or linear phase. The gain of a band may move with the sound.
/// </summary>
/// <remarks>
/// <para>
/// A new equaliser has band 1 on as a high-pass at 30 Hz, 12 dB an octave, which takes rumble away and leaves the music; the
/// other bands are off and stand where they are often needed. Bands that are off cost nothing.
/// </para>
/// <para>
/// A dynamic band listens to what comes into the equaliser, or to the key, in its own band or a free one. Every
/// <see cref="Processor.ControlInterval"/> frames its level moves the gain, which glides there within the next as many. In
/// linear phase the still part of all bands is one filter; what a dynamic band adds follows it in minimum phase, and its
/// detector hears the sound as late as the gain does.
/// </para>
/// </remarks>
public sealed class EqualiserProcessor : Processor, ISpectralReduction, IBandReduction
{
    // Control steps from one report to the meter to the next.
    private const int MeterSteps = 8;

    private readonly StereoCascade cascade = new(Bands * MatchedDesign.MaximumSections);
    private readonly FilterBand[] bands = new FilterBand[Bands];
    private readonly DynamicBands dynamics = new();
    private readonly EqualiserMeter meter = new();
    private readonly FilterSettings[] settings = new FilterSettings[Bands];
    private readonly bool[] isHeard = new bool[Bands];
    private LinearPhaseMode? linear;
    private LinearRamp outputGain;
    private bool isFading;
    private int meterStep;

    /// <summary>A new equaliser.</summary>
    public EqualiserProcessor()
        : base(Kind)
    {
        for (int band = 0; band < Bands; band++)
        {
            bands[band] = new FilterBand(cascade, band * MatchedDesign.MaximumSections, gainTravels: true);
        }
    }

    /// <summary>What an equaliser is.</summary>
    public static ProcessorDescription Kind { get; } = new(
        "equaliser",
        "Equaliser",
        1,
        "Corrects the balance of frequencies: bands to raise, lower, cut and tilt, still or moving with the sound.",
        All,
        ListensToKey: true);

    /// <inheritdoc/>
    public override int LatencyFrames => linear?.LatencyFrames ?? 0;

    /// <inheritdoc/>
    public override float GainReductionDb => dynamics.DeepestDb;

    /// <inheritdoc/>
    public ReadOnlySpan<float> ReductionFrequenciesHz => meter.Frequencies;

    /// <inheritdoc/>
    protected override bool SegmentsFollowControlInterval => isFading || dynamics.IsActive || linear is { IsBehind: true };

    /// <inheritdoc/>
    public override ProcessorGroup? GroupOf(IReadOnlyList<Processor> members) =>
        CascadeGroup.IsSupported ? new EqualiserGroup([.. members.Cast<EqualiserProcessor>()]) : null;

    /// <inheritdoc/>
    public ReadOnlySpan<float> LatestReductionDb() => meter.CurveDb();

    /// <inheritdoc/>
    public ReadOnlySpan<float> LatestBandReductionDb() => meter.BandsDb();

    /// <summary>The bands' sections.</summary>
    internal StereoCascade Cascade => cascade;

    /// <summary>The first part of a segment: what comes before the sections.</summary>
    internal void ProcessBefore(in StereoBlock segment)
    {
        dynamics.Hear(segment, IntervalPosition);
        linear?.Process(segment.Left, segment.Right);
    }

    /// <summary>The last part of a segment: what follows the sections.</summary>
    internal void ProcessBehind(in StereoBlock segment) => outputGain.Multiply(segment.Left, segment.Right);

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        linear = Choice(Phase) == LinearPhase ? new LinearPhaseMode(LengthMs[Choice(LinearPhaseLength)], Format.SampleRate) : null;
        dynamics.Prepare(Format.SampleRate, LatencyFrames);
        meter.Prepare(Format.SampleRate);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        cascade.Reset();
        ReadSettings();
        dynamics.Reset(this, settings, isHeard);
        for (int band = 0; band < Bands; band++)
        {
            bands[band].Jump(Moving(band), dynamics.Travel(band), IsHeardInCascade(band), Format.SampleRate, GlideSteps);
        }

        linear?.Reset(settings, isHeard);
        outputGain.Jump(Decibels.ToAmplitude(Value(OutputGain)));
        isFading = false;
        meterStep = 0;
        Report();
    }

    /// <inheritdoc/>
    protected override void OnBlockStart() => dynamics.RestartMeter();

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        ReadSettings();
        dynamics.Follow(this, settings, isHeard);
        outputGain.MoveTo(Decibels.ToAmplitude(Value(OutputGain)), ControlInterval);
    }

    /// <inheritdoc/>
    protected override void OnControlStep()
    {
        bool wasActive = dynamics.IsActive;
        dynamics.Step(GlideSteps);
        bool moves = false;
        isFading = false;
        for (int band = 0; band < Bands; band++)
        {
            moves |= bands[band].Step(Moving(band), dynamics.Travel(band), IsHeardInCascade(band), Format.SampleRate, GlideSteps);
            isFading |= bands[band].IsFading;
        }

        if (moves)
        {
            cascade.StartGlide(ControlInterval);
        }

        linear?.Step(settings, isHeard);
        if (wasActive && (++meterStep % MeterSteps == 0 || !dynamics.IsActive))
        {
            Report();
        }
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        ProcessBefore(segment);
        cascade.Process(segment.Left, segment.Right);
        ProcessBehind(segment);
    }

    /// <inheritdoc/>
    protected override void FlushTinyState() => cascade.FlushTinyState();

    /// <summary>The present value of a parameter of a band.</summary>
    internal double BandValue(int band, int parameter) => Value(Index(band, parameter));

    private void ReadSettings()
    {
        for (int band = 0; band < Bands; band++)
        {
            isHeard[band] = IsOn(Index(band, On));
            settings[band] = new(
                (FilterShape)Choice(Index(band, Shape)),
                BandValue(band, Frequency),
                BandValue(band, Gain),
                BandValue(band, Q),
                Choice(Index(band, Slope)) + 1);
        }
    }

    // In linear phase only what moves is in the cascade.
    private FilterSettings Moving(int band) => linear is null ? settings[band] : settings[band] with { GainDb = 0 };

    private bool IsHeardInCascade(int band) => isHeard[band] && (linear is null || dynamics.IsActiveIn(band));

    private void Report()
    {
        for (int band = 0; band < Bands; band++)
        {
            meter.Put(band, settings[band], isHeard[band] ? dynamics.Travel(band).GainDb : 0);
        }

        meter.Publish();
    }
}
