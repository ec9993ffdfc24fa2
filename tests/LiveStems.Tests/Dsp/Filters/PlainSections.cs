using LiveStems.Dsp.Filters;

namespace LiveStems.Tests.Dsp.Filters;

/// <summary>The plainest statement of what sections do to one channel: the oracle of the cascade.</summary>
internal static class PlainSections
{
    /// <summary>Biquads in transposed direct form 2, one after the other.</summary>
    public static double[] Biquads(IReadOnlyList<BiquadCoefficients> sections, double[] input)
    {
        double[] sound = [.. input];
        foreach (BiquadCoefficients c in sections)
        {
            double s1 = 0, s2 = 0;
            for (int n = 0; n < sound.Length; n++)
            {
                double x = sound[n];
                double y = c.B0 * x + s1;
                s1 = c.B1 * x - c.A1 * y + s2;
                s2 = c.B2 * x - c.A2 * y;
                sound[n] = y;
            }
        }

        return sound;
    }

    /// <summary>
    /// One state-variable section with trapezoidal integrators whose coefficients may be others in every frame
    /// (V. Zavalishin, "The Art of VA Filter Design", section 4, from memory).
    /// </summary>
    public static double[] Moving(Func<int, StateVariableCoefficients> coefficients, double[] input)
    {
        double band = 0, low = 0;
        double[] sound = new double[input.Length];
        for (int n = 0; n < sound.Length; n++)
        {
            StateVariableCoefficients c = coefficients(n);
            double highOut = (input[n] - (c.K + c.G) * band - low) / (1 + c.G * (c.G + c.K));
            double bandOut = band + c.G * highOut;
            double lowOut = low + c.G * bandOut;
            band = bandOut + c.G * highOut;
            low = lowOut + c.G * bandOut;
            sound[n] = c.Direct * input[n] + c.Band * bandOut + c.Low * lowOut;
        }

        return sound;
    }
}
