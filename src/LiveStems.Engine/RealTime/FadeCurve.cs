namespace LiveStems.Engine.RealTime;

/// <summary>
/// The curves of fades. All start and end level, so that neither end makes a corner: what a corner adds to a steady tone
/// falls by 12 dB an octave away from it, what these add by 18 dB.
/// </summary>
internal static class FadeCurve
{
    /// <summary>3t² − 2t³ for t from 0 to 1, held outside: shares of signals that are alike add up to 1.</summary>
    public static float Smooth(float t)
    {
        float held = Math.Clamp(t, 0, 1);
        return held * held * (3 - (2 * held));
    }

    /// <summary>Shares that add up to 1, for signals that are alike.</summary>
    public static (float Arriving, float Leaving) EqualGain(float t)
    {
        float arriving = Smooth(t);
        return (arriving, 1 - arriving);
    }

    /// <summary>Shares of equal power, for signals that are not alike: sine and cosine of an angle that itself goes smoothly.</summary>
    public static (float Arriving, float Leaving) EqualPower(float t) => MathF.SinCos(MathF.PI / 2 * Smooth(t));
}
