namespace LiveStems.Dsp.Spectral;

/// <summary>
/// The Kaiser window and its design formulas: J. F. Kaiser, "Nonrecursive digital filter design using the I0-sinh
/// window function", IEEE International Symposium on Circuits and Systems 1974.
/// </summary>
public static class KaiserWindow
{
    /// <summary>The shape β whose windowed-sinc filter deviates by at most <paramref name="attenuationDb"/> decibels below 1.</summary>
    public static double Beta(double attenuationDb) => attenuationDb switch
    {
        > 50 => 0.1102 * (attenuationDb - 8.7),
        > 21 => 0.5842 * Math.Pow(attenuationDb - 21, 0.4) + 0.07886 * (attenuationDb - 21),
        _ => 0,
    };

    /// <summary>
    /// Width of the transition band, in radians per sample, of a windowed sinc of <paramref name="taps"/> taps (at least
    /// 2) that deviates by <paramref name="attenuationDb"/> decibels below 1.
    /// </summary>
    public static double TransitionWidth(double attenuationDb, double taps) => (attenuationDb - 7.95) / (2.285 * (taps - 1));

    /// <summary>
    /// The window at <paramref name="position"/> from −1 to 1, where 0 is its centre and its value there is 1; 0 outside.
    /// </summary>
    public static double Value(double position, double beta)
    {
        double inside = 1 - position * position;
        return inside < 0 ? 0 : BesselI0(beta * Math.Sqrt(inside)) / BesselI0(beta);
    }

    /// <summary>
    /// The modified Bessel function of the first kind and order 0 by its power series (Abramowitz and Stegun 9.6.12), all
    /// of whose terms are positive, so that nothing cancels; meant for |x| up to about 100.
    /// </summary>
    public static double BesselI0(double x)
    {
        double quarterSquare = x * x / 4;
        double term = 1;
        double sum = 1;
        for (int k = 1; term > sum * 1e-18; k++)
        {
            term *= quarterSquare / ((double)k * k);
            sum += term;
        }

        return sum;
    }
}
