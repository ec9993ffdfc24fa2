namespace LiveStems.Dsp.Filters;

/// <summary>
/// An analogue section (N2 s² + N1 s + N0) / (D2 s² + D1 s + D0), with s in units of the filter's own angular frequency.
/// </summary>
/// <param name="N2">Numerator, s².</param>
/// <param name="N1">Numerator, s.</param>
/// <param name="N0">Numerator, constant.</param>
/// <param name="D2">Denominator, s²; 0 makes the section one of first order.</param>
/// <param name="D1">Denominator, s.</param>
/// <param name="D0">Denominator, constant.</param>
public readonly record struct AnalogueSection(double N2, double N1, double N0, double D2, double D1, double D0)
{
    /// <summary>True when neither numerator nor denominator has an s² term.</summary>
    public bool IsFirstOrder => N2 == 0 && D2 == 0;

    /// <summary>|H(jω)|² at ω = <paramref name="ratio"/> times the filter's own frequency.</summary>
    public double MagnitudeSquared(double ratio)
    {
        double square = ratio * ratio;
        double top = N0 - N2 * square;
        double bottom = D0 - D2 * square;
        return (top * top + N1 * N1 * square) / (bottom * bottom + D1 * D1 * square);
    }
}
