namespace LiveStems.App.Demo.Instruments;

/// <summary>Curves of control values over time.</summary>
internal static class ControlCurves
{
    /// <summary>Smooths forwards and backwards, so that a change begins as much before its place as it ends after.</summary>
    public static void Smooth(double[] curve, double steps)
    {
        double share = 1 - Math.Exp(-1 / steps);
        double value = curve[0];
        for (int i = 0; i < curve.Length; i++)
        {
            value += share * (curve[i] - value);
            curve[i] = value;
        }

        for (int i = curve.Length - 1; i >= 0; i--)
        {
            value += share * (curve[i] - value);
            curve[i] = value;
        }
    }
}
