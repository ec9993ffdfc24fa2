using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The static curve of a downward expander with two thresholds: one channel's level in dB to its reduction in dB.
/// </summary>
/// <remarks>
/// <para>
/// Curve: <see cref="GainComputer.Expander"/> (mirror of Giannoulis, Massberg, Reiss, JAES 60(6), 2012, eq. 4). It has
/// two places: a closed expander has its threshold at the open threshold, an open one at the open threshold less the
/// hysteresis. It opens when the level passes the open threshold and closes when the level falls below the close
/// threshold (O. H. Schmitt, "A thermionic trigger", 1938: two states, two thresholds). At a hysteresis of 0 dB both
/// curves are one and the state has no effect.
/// </para>
/// </remarks>
public sealed class HysteresisCurve
{
    private GainComputer.Vectorised curve;
    private float threshold;
    private float hysteresis;
    private bool isOpen;

    /// <summary>Sets the curve; the state stays.</summary>
    /// <param name="thresholdDb">Level at which it opens.</param>
    /// <param name="hysteresisDb">How far below that it closes, 0 or above.</param>
    /// <param name="ratio">1:R, at least 1 and finite.</param>
    /// <param name="kneeDb">Width of the knee, 0 or above.</param>
    /// <param name="rangeDb">Deepest reduction, 0 or above.</param>
    public void Set(double thresholdDb, double hysteresisDb, double ratio, double kneeDb, double rangeDb)
    {
        curve = GainComputer.Expander(thresholdDb, ratio, kneeDb, rangeDb).Vectorise();
        threshold = (float)thresholdDb;
        hysteresis = (float)hysteresisDb;
    }

    /// <summary>Closed, as after silence.</summary>
    public void Reset() => isOpen = false;

    /// <summary>
    /// Replaces levels in dB by reductions in dB, 0 or above. Whole vectors of eight are written; what lies behind the
    /// frames does not count.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Process(Span<float> levelsDb, int frames)
    {
        // The lower curve is the upper one with the level raised.
        bool open = isOpen;
        (float gap, float opening) = (hysteresis, threshold);
        foreach (ref float level in levelsDb[..frames])
        {
            float raised = level + gap;
            open = (open ? raised : level) >= opening;
            level = open ? raised : level;
        }

        isOpen = open;
        foreach (ref Vector256<float> eight in MemoryMarshal.Cast<float, Vector256<float>>(levelsDb))
        {
            eight = curve.ReductionDb(eight);
        }
    }
}
