using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Equaliser.EqualiserParameters;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>
/// Twelve bands in series, each true to its analogue prototype up to Nyquist (<see cref="MatchedDesign"/>), minimum phase,
/// without latency.
/// </summary>
/// <remarks>
/// A new equaliser has band 1 on as a high-pass at 30 Hz, 12 dB an octave, which takes rumble away and leaves the music; the
/// other bands are off and stand where they are often needed. Bands that are off cost nothing.
/// </remarks>
public sealed class EqualiserProcessor : Processor
{
    private readonly StereoCascade cascade = new(Bands * MatchedDesign.MaximumSections);
    private readonly FilterBand[] bands = new FilterBand[Bands];
    private LinearRamp outputGain;
    private bool isFading;

    /// <summary>A new equaliser.</summary>
    public EqualiserProcessor()
        : base(Kind)
    {
        for (int band = 0; band < Bands; band++)
        {
            bands[band] = new FilterBand(cascade, band * MatchedDesign.MaximumSections);
        }
    }

    /// <summary>What an equaliser is.</summary>
    public static ProcessorDescription Kind { get; } = new(
        "equaliser",
        "Equaliser",
        1,
        "Corrects the balance of frequencies: bands to raise, lower, cut and tilt.",
        All,
        ListensToKey: false);

    /// <inheritdoc/>
    protected override bool SegmentsFollowControlInterval => isFading;

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        cascade.Reset();
        for (int band = 0; band < Bands; band++)
        {
            bands[band].Jump(Settings(band), IsOn(Index(band, On)), Format.SampleRate, GlideSteps);
        }

        outputGain.Jump(Decibels.ToAmplitude(Value(OutputGain)));
        isFading = false;
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved() => outputGain.MoveTo(Decibels.ToAmplitude(Value(OutputGain)), ControlInterval);

    /// <inheritdoc/>
    protected override void OnControlStep()
    {
        bool moves = false;
        isFading = false;
        for (int band = 0; band < Bands; band++)
        {
            moves |= bands[band].Step(Settings(band), IsOn(Index(band, On)), Format.SampleRate, GlideSteps);
            isFading |= bands[band].IsFading;
        }

        if (moves)
        {
            cascade.StartGlide(ControlInterval);
        }
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        cascade.Process(segment.Left, segment.Right);
        outputGain.Multiply(segment.Left, segment.Right);
    }

    /// <inheritdoc/>
    protected override void FlushTinyState() => cascade.FlushTinyState();

    private FilterSettings Settings(int band) => new(
        (FilterShape)Choice(Index(band, Shape)),
        Value(Index(band, Frequency)),
        Value(Index(band, Gain)),
        Value(Index(band, Q)),
        Choice(Index(band, Slope)) + 1);
}
