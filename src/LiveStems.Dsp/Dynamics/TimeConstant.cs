namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Attack and release times as poles of one-pole smoothers. A time here is always τ, the time to cover 63.2 % (1 − 1/e)
/// of a step (Giannoulis, Massberg, Reiss, JAES 60(6), 2012).
/// </summary>
public static class TimeConstant
{
    /// <summary>Pole α = exp(−1/(τ fs)) of y[n] = α y[n−1] + (1 − α) x[n]; 0 for a time of 0.</summary>
    /// <param name="milliseconds">τ, 0 or above.</param>
    /// <param name="sampleRate">Steps a second.</param>
    public static double Pole(double milliseconds, double sampleRate) =>
        milliseconds <= 0 ? 0 : Math.Exp(-1000 / (milliseconds * sampleRate));
}
