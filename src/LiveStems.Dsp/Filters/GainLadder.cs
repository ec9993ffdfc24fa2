using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// The designs of one band at evenly spaced gains, so that a gain that moves all the time costs an interpolation between
/// two of them instead of a design a step.
/// </summary>
/// <remarks>
/// <para>
/// A rung is designed when it is first needed, two a step at most, as the continuation of a neighbour
/// (<see cref="MatchedDesign.Continue"/>). Between rungs each coefficient lies on a straight line, so the section stays
/// stable. A section's coefficients go with powers of √10^(gain/20) at most: over a rung of h dB the line errs by
/// (h ln 10 / 20)² / 8 of them, 0.008 dB at the longest range of 24 dB in 32 rungs (derived).
/// </para>
/// <para>Shapes whose design is three sections: bell, shelves, tilt.</para>
/// </remarks>
internal sealed class GainLadder
{
    private const int Rungs = 32;
    private const int Sections = FrequencyMap.Degree;

    private readonly StateVariableCoefficients[] designs = Unmoved.Array<StateVariableCoefficients>((Rungs + 1) * Sections);
    private readonly bool[] designed = new bool[Rungs + 1];
    private readonly StateVariableCoefficients[] start = new StateVariableCoefficients[Sections];
    private FilterSettings settings;
    private double rangeDb;
    private double sampleRate;

    /// <summary>Forgets all rungs and takes a band to climb: the rungs continue one of its designs.</summary>
    public void Start(in FilterSettings band, double range, double rate, ReadOnlySpan<StateVariableCoefficients> design)
    {
        Array.Clear(designed);
        settings = band;
        rangeDb = range;
        sampleRate = rate;
        design[..Sections].CopyTo(start);
    }

    /// <summary>The sections at a share of the range, 0 to 1.</summary>
    public void At(double share, Span<StateVariableCoefficients> sections)
    {
        double place = Math.Clamp(share, 0, 1) * Rungs;
        int below = Math.Min((int)place, Rungs - 1);
        ReadOnlySpan<StateVariableCoefficients> lower = Rung(below);
        ReadOnlySpan<StateVariableCoefficients> upper = Rung(below + 1);
        for (int i = 0; i < Sections; i++)
        {
            sections[i] = lower[i].Towards(upper[i], place - below);
        }
    }

    private Span<StateVariableCoefficients> Rung(int index)
    {
        Span<StateVariableCoefficients> rung = Place(index);
        if (!designed[index])
        {
            Neighbour(index).CopyTo(rung);
            MatchedDesign.Continue(settings with { GainDb = settings.GainDb + rangeDb * index / Rungs }, sampleRate, rung);
            designed[index] = true;
        }

        return rung;
    }

    private ReadOnlySpan<StateVariableCoefficients> Neighbour(int index)
    {
        for (int distance = 1; distance <= Rungs; distance++)
        {
            if (index >= distance && designed[index - distance])
            {
                return Place(index - distance);
            }

            if (index + distance <= Rungs && designed[index + distance])
            {
                return Place(index + distance);
            }
        }

        return start;
    }

    private Span<StateVariableCoefficients> Place(int index) => designs.AsSpan(index * Sections, Sections);
}
