using LiveStems.Dsp.Filters;

namespace LiveStems.Dsp.Nonlinear;

/// <summary>
/// Emphasis around a curve: raises the top over the bottom before it and takes exactly that back behind it, so that the
/// curve works more on one end of the spectrum while quiet sound stays as it was.
/// </summary>
/// <remarks>
/// H(s) = (a s + ω₀) / (s + a ω₀), gain 1/a at the bottom, 1 at the pivot ω₀, a at the top; its inverse is the same with
/// 1/a. First order, derived from these three gains; bilinear, so that both stay inverses.
/// </remarks>
public static class EmphasisTilt
{
    private const double HighestPivotShare = 0.45;

    /// <summary>The tilt as a section.</summary>
    /// <param name="tiltDb">Gain of the top over the bottom; its negative is the inverse.</param>
    /// <param name="pivotHz">Frequency that keeps its level; held below 0.45 of the sample rate.</param>
    /// <param name="sampleRate">Frames a second.</param>
    public static StateVariableCoefficients Section(double tiltDb, double pivotHz, double sampleRate)
    {
        double a = Decibels.ToAmplitude(tiltDb / 2);
        double w = Math.Tan(Math.PI * Math.Min(pivotHz, HighestPivotShare * sampleRate) / sampleRate);
        BiquadCoefficients firstOrder = BiquadCoefficients.Normalised(a + w, w - a, 0, 1 + a * w, a * w - 1, 0);
        return StateVariableCoefficients.FromBiquad(firstOrder);
    }
}
