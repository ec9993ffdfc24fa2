using LiveStems.Albums.Model;

namespace LiveStems.Engine.RealTime;

/// <summary>The shapes of fades as gains.</summary>
public static class FadeLaw
{
    private const double DepthDb = 60;

    /// <summary>Share of the fade, from its silent end, over which an even slope in decibels is brought down to nothing.</summary>
    private const double Foot = 0.02;

    /// <summary>Gain at a place of a fade in.</summary>
    /// <param name="shape">Its shape.</param>
    /// <param name="share">0 at the silent end, 1 at the full one.</param>
    public static double GainAt(FadeShape shape, double share)
    {
        double place = Math.Clamp(share, 0, 1);
        return shape switch
        {
            FadeShape.Linear => place,
            FadeShape.EqualPower => Math.Sin(Math.PI / 2 * place),
            FadeShape.Decibels => Math.Pow(10, -DepthDb * (1 - place) / 20) * Math.Min(1, place / Foot),
            _ => 0.5 - 0.5 * Math.Cos(Math.PI * place),
        };
    }
}
