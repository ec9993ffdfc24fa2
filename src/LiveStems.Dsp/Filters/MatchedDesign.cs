using System.Numerics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Digital sections whose magnitude follows the analogue prototype up to Nyquist, without the cramping of the bilinear
/// transform; minimum phase and stable for every setting. See <see cref="FrequencyMap"/> for the principle.
/// </summary>
/// <remarks>
/// <para>
/// Every factor of the prototype, that is the poles or the zeros of one of its sections, is solved through the map after
/// the map has been made exact at the factor's own frequency, so that the narrowest peak stands where it should. Each
/// second-order section becomes three digital ones, each of first order two.
/// </para>
/// <para>
/// Up to 20 kHz, where the prototype is above −60 dB, the worst error over bells and shelves (Q 0.1 to 40, ±24 dB), passes
/// of order 1 to 8 and notches is 0.04 dB at 44.1 kHz (0.09 dB on the flank of a notch at 20 kHz), 0.03 dB at 48 kHz and
/// 0.01 dB at 96 kHz (measured over random settings).
/// </para>
/// </remarks>
public static class MatchedDesign
{
    /// <summary>The most digital sections that any setting needs.</summary>
    public const int MaximumSections = AnaloguePrototype.MaximumSections * FrequencyMap.Degree;

    /// <summary>Highest frequency of a design, as a share of the sample rate; higher ones are taken as this.</summary>
    public const double HighestShare = 0.49;

    /// <summary>How many digital sections a filter needs; depends on shape and order only.</summary>
    public static int SectionCount(FilterShape shape, int order) =>
        shape is FilterShape.LowPass or FilterShape.HighPass ? order / 2 * 3 + order % 2 * 2 : FrequencyMap.Degree;

    /// <summary>
    /// Writes the sections of a filter and returns how many there are. Allocates nothing and takes a bounded time.
    /// </summary>
    /// <param name="settings">The filter; its frequency is held below <see cref="HighestShare"/> of the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="sections">Room for <see cref="SectionCount"/> sections.</param>
    public static int Design(in FilterSettings settings, double sampleRate, Span<StateVariableCoefficients> sections) =>
        Design(settings, sampleRate, sections, isContinued: false);

    /// <summary>
    /// Does the same for a filter on the move: <paramref name="sections"/> hold an earlier design of the same shape and
    /// order, and each is replaced by the section that continues it. Close to Nyquist the order of a fresh design can change
    /// from one setting to the next, which a glide must not follow.
    /// </summary>
    /// <param name="settings">The filter; its frequency is held below <see cref="HighestShare"/> of the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="sections">The earlier design.</param>
    public static int Continue(in FilterSettings settings, double sampleRate, Span<StateVariableCoefficients> sections) =>
        Design(settings, sampleRate, sections, isContinued: true);

    /// <summary>
    /// Does the same and leaves out the sections that together change nothing by more than 0.05 dB, as a
    /// <see cref="FilterBand"/> that stands still does.
    /// </summary>
    /// <param name="settings">The filter; its frequency is held below <see cref="HighestShare"/> of the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="sections">Room for <see cref="SectionCount"/> sections.</param>
    public static int DesignAudible(in FilterSettings settings, double sampleRate, Span<StateVariableCoefficients> sections) =>
        SectionAudibility.Keep(sections[..Design(settings, sampleRate, sections)]);

    private static int Design(
        in FilterSettings settings, double sampleRate, Span<StateVariableCoefficients> sections, bool isContinued)
    {
        Span<AnalogueSection> prototype = stackalloc AnalogueSection[AnaloguePrototype.MaximumSections];
        int count = AnaloguePrototype.Sections(settings, prototype);
        double omega = 2 * Math.PI * Math.Min(settings.FrequencyHz / sampleRate, HighestShare);
        int written = 0;
        foreach (AnalogueSection section in prototype[..count])
        {
            written += Match(section, omega, sections[written..], isContinued);
        }

        return written;
    }

    private static int Match(
        in AnalogueSection section, double omega, Span<StateVariableCoefficients> sections, bool isContinued)
    {
        int count = section.IsFirstOrder ? 2 : FrequencyMap.Degree;
        Span<BilinearFactor> zeros = stackalloc BilinearFactor[count];
        Span<BilinearFactor> poles = stackalloc BilinearFactor[count];
        BilinearFactor.Solve(section.N2, section.N1, section.N0, section.IsFirstOrder, omega, zeros);
        BilinearFactor.Solve(section.D2, section.D1, section.D0, section.IsFirstOrder, omega, poles);

        if (isContinued && count == FrequencyMap.Degree)
        {
            Span<BilinearFactor> before = stackalloc BilinearFactor[FrequencyMap.Degree];
            for (int i = 0; i < count; i++)
            {
                before[i] = BilinearFactor.ZerosOf(sections[i]);
            }

            FactorOrder.Follow(before, zeros);
            for (int i = 0; i < count; i++)
            {
                before[i] = BilinearFactor.PolesOf(sections[i]);
            }

            FactorOrder.Follow(before, poles);
        }

        // The gain is set where the prototype has most of it to lose: at 0, or at Nyquist where it has nothing at 0.
        bool isAtNyquist = section.N0 == 0;
        double wanted = isAtNyquist
            ? Math.Sqrt(section.MagnitudeSquared(Math.Sqrt(FrequencyMap.AtNyquist) / omega))
            : section.N0 / section.D0;
        for (int i = 0; i < count; i++)
        {
            double gain = isAtNyquist ? 1 : poles[i].Constant / zeros[i].Constant;
            gain *= i == 0 ? wanted : 1;
            sections[i] = StateVariableCoefficients.FromBilinear(
                gain, gain * zeros[i].Linear, gain * zeros[i].Constant, poles[i].Linear, poles[i].Constant);
        }

        return count;
    }
}
