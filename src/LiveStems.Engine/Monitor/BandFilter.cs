using LiveStems.Dsp.Filters;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// One band of the sound: a Butterworth high-pass and a Butterworth low-pass of one order in series, each 3 dB down at its
/// own edge, in double precision and true to the analogue filters up to half the sample rate.
/// </summary>
/// <remarks>
/// Order 4 falls by 24 dB/oct, order 8 by 48 (S. Butterworth, 1930): |H|² = 1 / ((1 + (lower/f)^2n) (1 + (f/upper)^2n)).
/// </remarks>
internal sealed class BandFilter(int order, double sampleRate)
{
    private readonly int sectionsAnEdge = MatchedDesign.SectionCount(FilterShape.HighPass, order);
    private readonly StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
    private readonly StereoCascade cascade = new(2 * MatchedDesign.SectionCount(FilterShape.HighPass, order));
    private BandEdges edges;

    /// <summary>Takes its edges at once, as from silence.</summary>
    public void Start(in BandEdges wanted)
    {
        edges = wanted;
        for (int edge = 0; edge < 2; edge++)
        {
            Design(edge);
            for (int i = 0; i < sectionsAnEdge; i++)
            {
                cascade.Set(edge * sectionsAnEdge + i, sections[i]);
            }
        }
    }

    /// <summary>Reaches other edges after a number of frames; the last such glide must have ended.</summary>
    public void MoveTo(in BandEdges wanted, int frames)
    {
        if (wanted == edges)
        {
            return;
        }

        edges = wanted;
        for (int edge = 0; edge < 2; edge++)
        {
            Design(edge);
            for (int i = 0; i < sectionsAnEdge; i++)
            {
                cascade.MoveTo(edge * sectionsAnEdge + i, sections[i]);
            }
        }

        cascade.StartGlide(frames);
    }

    /// <summary>Filters both sides, in place.</summary>
    public void Process(Span<float> left, Span<float> right) => cascade.Process(left, right);

    /// <summary>Sets state that has died away to zero; at moments that depend on the frame count alone.</summary>
    public void FlushTinyState() => cascade.FlushTinyState();

    private void Design(int edge)
    {
        FilterSettings settings = edge == 0
            ? new(FilterShape.HighPass, edges.LowerHz, 0, Math.Sqrt(0.5), order)
            : new(FilterShape.LowPass, edges.UpperHz, 0, Math.Sqrt(0.5), order);
        MatchedDesign.Design(settings, sampleRate, sections);
    }
}
