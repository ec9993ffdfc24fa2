using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Space;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Width;

/// <summary>
/// The side's way through the bands: two <see cref="GainCrossover"/> and a Linkwitz-Riley high-pass of fourth order (two
/// Butterworth ones of second order).
/// </summary>
/// <remarks>
/// The first crossover goes from the low gain to the middle gain, the second from 1 to high over middle; for that ratio
/// the middle gain counts as at least −60 dB.
/// </remarks>
internal sealed class SideFilter
{
    private const double LowestMiddleGain = 1e-3;
    private const int FirstHighPass = 2 * GainCrossover.SectionCount;
    private const int Capacity = FirstHighPass + 2 * MatchedDesign.MaximumSections;

    private readonly StereoCascade cascade = new(Capacity);
    private readonly FilterBand highPass;
    private readonly FilterBand highPassAgain;
    private readonly StateVariableCoefficients[] sections = new StateVariableCoefficients[2 * GainCrossover.SectionCount];
    private readonly float[] unused = new float[WidthProcessor.ChunkFrames];

    public SideFilter()
    {
        highPass = new FilterBand(cascade, FirstHighPass);
        highPassAgain = new FilterBand(cascade, FirstHighPass + MatchedDesign.MaximumSections);
    }

    /// <summary>True while the high-pass fades in or out.</summary>
    public bool IsFading => highPass.IsFading || highPassAgain.IsFading;

    /// <summary>Takes everything at once, as from silence.</summary>
    public void Jump(in BandWidths widths, bool isMonoBelow, double monoBelowHz, double sampleRate, int fadeSteps)
    {
        cascade.Reset();
        Design(widths, sampleRate);
        for (int i = 0; i < sections.Length; i++)
        {
            cascade.Set(i, sections[i]);
        }

        highPass.Jump(HighPass(monoBelowHz), isMonoBelow, sampleRate, fadeSteps);
        highPassAgain.Jump(HighPass(monoBelowHz), isMonoBelow, sampleRate, fadeSteps);
    }

    /// <summary>Moves the widths; <see cref="Step"/> must follow.</summary>
    public void MoveTo(in BandWidths widths, double sampleRate)
    {
        Design(widths, sampleRate);
        for (int i = 0; i < sections.Length; i++)
        {
            cascade.MoveTo(i, sections[i]);
        }
    }

    /// <summary>Starts the next control interval.</summary>
    public void Step(bool isMonoBelow, double monoBelowHz, double sampleRate, int fadeSteps)
    {
        highPass.Step(HighPass(monoBelowHz), isMonoBelow, sampleRate, fadeSteps);
        highPassAgain.Step(HighPass(monoBelowHz), isMonoBelow, sampleRate, fadeSteps);
        cascade.StartGlide(Processor.ControlInterval);
    }

    /// <summary>Filters the side in place.</summary>
    public void Process(Span<float> side)
    {
        Span<float> other = unused.AsSpan(0, side.Length);
        other.Clear();
        cascade.Process(side, other);
    }

    /// <summary>Filters two sides in place, each through its own filter.</summary>
    public void ProcessWith(SideFilter other, Span<float> side, Span<float> otherSide)
    {
        Span<float> silence = unused.AsSpan(0, side.Length);
        silence.Clear();
        cascade.ProcessLeftWith(other.cascade, side, otherSide, silence);
    }

    public void FlushTinyState() => cascade.FlushTinyState();

    private void Design(in BandWidths widths, double sampleRate)
    {
        double middle = Math.Max(widths.Middle, LowestMiddleGain);
        Span<StateVariableCoefficients> all = sections;
        GainCrossover.Design(widths.Low, middle, widths.LowCrossoverHz, sampleRate, all);
        GainCrossover.Design(1, widths.High / middle, widths.HighCrossoverHz, sampleRate, all[GainCrossover.SectionCount..]);
    }

    private static FilterSettings HighPass(double frequencyHz) =>
        new(FilterShape.HighPass, frequencyHz, 0, Math.Sqrt(0.5), Order: 2);
}

/// <summary>Gains of the side in three bands, and the frequencies between them.</summary>
/// <param name="Low">Below the low crossover, 0 or above.</param>
/// <param name="Middle">Between the crossovers.</param>
/// <param name="High">Above the high crossover.</param>
/// <param name="LowCrossoverHz">Between low and middle.</param>
/// <param name="HighCrossoverHz">Between middle and high.</param>
internal readonly record struct BandWidths(double Low, double Middle, double High, double LowCrossoverHz, double HighCrossoverHz);
