using System.Runtime.CompilerServices;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Hold, attack and release of one channel of an expander: how its reduction in dB moves.
/// </summary>
/// <remarks>
/// Hold: the lowest reduction asked for during the last hold time, so it opens at once and every closing comes later by
/// the hold. Then the smooth branching detector of Giannoulis, Massberg, Reiss (JAES 60(6), 2012) on the reduction in
/// dB: y[n] = α y[n−1] + (1 − α) x[n] with the attack's pole when the reduction eases (it opens) and the release's when
/// it deepens. Times are τ (63.2 %). State is double: at 3 s and 384 kHz 1 − α is 9e-7.
/// </remarks>
/// <param name="maximumHoldMs">The longest hold, 0 or above.</param>
/// <param name="sampleRate">Samples a second.</param>
public sealed class GateBallistics(double maximumHoldMs, double sampleRate)
{
    private readonly HoldingMinimum hold = new((int)Math.Round(maximumHoldMs * sampleRate / 1000) + 1);
    private double smoothed;
    private double attackPole;
    private double releasePole;
    private int window = 1;

    /// <summary>Sets the times; the state stays.</summary>
    /// <param name="attackMs">τ of opening, 0 or above.</param>
    /// <param name="holdMs">Time before it may close, 0 up to the longest.</param>
    /// <param name="releaseMs">τ of closing, 0 or above.</param>
    public void SetTimes(double attackMs, double holdMs, double releaseMs)
    {
        attackPole = TimeConstant.Pole(attackMs, sampleRate);
        releasePole = TimeConstant.Pole(releaseMs, sampleRate);
        window = (int)Math.Round(holdMs * sampleRate / 1000) + 1;
    }

    /// <summary>As after long silence: at rest at a reduction in dB.</summary>
    public void Reset(double reductionDb)
    {
        hold.Reset();
        smoothed = reductionDb;
    }

    /// <summary>Sets state below 1e-20 dB to zero.</summary>
    public void FlushTinyState() => smoothed = smoothed > 1e-20 ? smoothed : 0;

    /// <summary>Replaces the reductions that the curve asks for by those that are made, dB.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Process(Span<float> reductionDb)
    {
        hold.Process(reductionDb, window);
        double y = smoothed;
        double attack = attackPole;
        double release = releasePole;
        foreach (ref float reduction in reductionDb)
        {
            double x = reduction;
            y = Math.FusedMultiplyAdd(x < y ? attack : release, y - x, x);
            reduction = (float)y;
        }

        smoothed = y;
    }
}
