using System.Numerics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// A second-order section as a state-variable filter with trapezoidal integrators:
/// H(s) = Direct + (Band · G s + Low · G²) / (s² + K G s + G²) with s = (1 − z⁻¹) / (1 + z⁻¹).
/// </summary>
/// <remarks>
/// <para>
/// The two states are the integrators' own. With x = 0 the sum of their squares changes by −4 K G v² a frame, v being the
/// band-pass output, so it never grows for any G &gt; 0 and K ≥ 0 however fast these move (derived from the update
/// equations; compare V. Zavalishin, "The Art of VA Filter Design", sections 3 and 4). A section's numerator is only a mix
/// of outputs: moving it towards <see cref="Neutral"/> is exactly a cross-fade to the input.
/// </para>
/// </remarks>
/// <param name="G">Distance of the poles from 0 in the bilinear plane, above 0.</param>
/// <param name="K">Damping, 1/Q of the pole pair; at least 0.</param>
/// <param name="Direct">How much of the input is heard.</param>
/// <param name="Band">How much of the band-pass output is heard.</param>
/// <param name="Low">How much of the low-pass output is heard.</param>
public readonly record struct StateVariableCoefficients(double G, double K, double Direct, double Band, double Low)
{
    /// <summary>1 / (1 + G (G + K)): what a frame leaves of the band integrator.</summary>
    internal double Decay => 1 / (1 + G * (G + K));

    /// <summary>How much of the input reaches the band-pass output in the same frame.</summary>
    internal double InputGain => G * Decay;

    /// <summary>The band-pass output's weight once the low-pass output is written as its state and a share of the band.</summary>
    internal double BandTap => Band + Low * G;

    /// <summary>Output equals input.</summary>
    public static StateVariableCoefficients Neutral { get; } = new(1, 2, 1, 0, 0);

    /// <summary>The section (n2 s² + n1 s + n0) / (s² + d1 s + d0), s in the bilinear plane, d0 above 0.</summary>
    public static StateVariableCoefficients FromBilinear(double n2, double n1, double n0, double d1, double d0)
    {
        double g = Math.Sqrt(d0);
        double k = d1 / g;
        return new(g, k, n2, n1 / g - n2 * k, n0 / d0 - n2);
    }

    /// <summary>The section of a stable biquad.</summary>
    public static StateVariableCoefficients FromBiquad(in BiquadCoefficients biquad)
    {
        double scale = 1 / (1 - biquad.A1 + biquad.A2);
        return FromBilinear(
            (biquad.B0 - biquad.B1 + biquad.B2) * scale,
            2 * (biquad.B0 - biquad.B2) * scale,
            (biquad.B0 + biquad.B1 + biquad.B2) * scale,
            2 * (1 - biquad.A2) * scale,
            (1 + biquad.A1 + biquad.A2) * scale);
    }

    /// <summary>The same section as a biquad.</summary>
    public BiquadCoefficients ToBiquad()
    {
        double square = G * G;
        double n2 = Direct;
        double n1 = (Band + Direct * K) * G;
        double n0 = (Low + Direct) * square;
        return BiquadCoefficients.Normalised(
            n2 + n1 + n0, 2 * (n0 - n2), n2 - n1 + n0, 1 + K * G + square, 2 * (square - 1), 1 - K * G + square);
    }

    /// <summary>The same poles, and a share of the way from neutral (0) to this section's own response (1).</summary>
    public StateVariableCoefficients Faded(double share) =>
        new(G, K, 1 + share * (Direct - 1), share * Band, share * Low);

    /// <summary>A share of the way from this section to another, each coefficient on a straight line.</summary>
    public StateVariableCoefficients Towards(in StateVariableCoefficients other, double share) => new(
        G + share * (other.G - G),
        K + share * (other.K - K),
        Direct + share * (other.Direct - Direct),
        Band + share * (other.Band - Band),
        Low + share * (other.Low - Low));

    /// <summary>Complex response at an angular frequency in radians a sample, 0 to below π.</summary>
    public Complex Response(double omega)
    {
        Complex s = new(0, Math.Tan(omega / 2));
        return Direct + (Band * G * s + Low * G * G) / (s * s + K * G * s + G * G);
    }
}
