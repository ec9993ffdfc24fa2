using System.Numerics;

namespace LiveStems.Dsp.Filters;

/// <summary>H(z) = (B0 + B1 z⁻¹ + B2 z⁻²) / (1 + A1 z⁻¹ + A2 z⁻²).</summary>
/// <param name="B0">Numerator, z⁰.</param>
/// <param name="B1">Numerator, z⁻¹.</param>
/// <param name="B2">Numerator, z⁻².</param>
/// <param name="A1">Denominator, z⁻¹.</param>
/// <param name="A2">Denominator, z⁻².</param>
public readonly record struct BiquadCoefficients(double B0, double B1, double B2, double A1, double A2)
{
    /// <summary>Output equals input.</summary>
    public static BiquadCoefficients Identity { get; } = new(1, 0, 0, 0, 0);

    /// <summary>True when both poles lie inside the unit circle: (A1, A2) inside the stability triangle.</summary>
    public bool IsStable => Math.Abs(A2) < 1 && Math.Abs(A1) < 1 + A2;

    /// <summary>Complex response at an angular frequency in radians a sample.</summary>
    public Complex Response(double omega)
    {
        Complex delay = Complex.FromPolarCoordinates(1, -omega);
        return (B0 + delay * (B1 + delay * B2)) / (1 + delay * (A1 + delay * A2));
    }

    /// <summary>Gain in decibels at a frequency.</summary>
    public double GainDb(double frequencyHz, double sampleRate) =>
        Decibels.FromAmplitude(Complex.Abs(Response(2 * Math.PI * frequencyHz / sampleRate)));

    /// <summary>Divides everything by a0, the z⁰ coefficient of the denominator.</summary>
    internal static BiquadCoefficients Normalised(double b0, double b1, double b2, double a0, double a1, double a2) =>
        new(b0 / a0, b1 / a0, b2 / a0, a1 / a0, a2 / a0);
}
