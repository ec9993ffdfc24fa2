using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>How far one turn of a wheel goes, and to how many digits a dragged value is rounded: as fine as the ear asks for.</summary>
internal static class FieldSteps
{
    // Equal ratios: 24 and 120 to the octave.
    private const double CoarseOctaves = 1.0 / 24;
    private const double FineOctaves = 1.0 / 120;
    private const int DraggedDigits = 3;

    /// <summary>The value so many steps on, on the grid of the steps, inside the range.</summary>
    public static double Next(ParameterSpec spec, double value, int steps, bool fine)
    {
        if (spec.Taper == Taper.Stepped)
        {
            return spec.Clamp(value + steps);
        }

        if (spec.Taper == Taper.Logarithmic)
        {
            double moved = value * Math.Pow(2, steps * (fine ? FineOctaves : CoarseOctaves));
            return spec.Clamp(WithDigits(moved, DraggedDigits + (fine ? 1 : 0)));
        }

        double step = StepOf(spec, fine);
        return spec.Clamp(Math.Round((value + steps * step) / step) * step is var onGrid && onGrid != value ? Cleaned(onGrid) : value + steps * step);
    }

    /// <summary>A dragged value with no more digits than it deserves.</summary>
    public static double Rounded(ParameterSpec spec, double value) => spec.Taper switch
    {
        Taper.Stepped => value,
        Taper.Logarithmic => spec.Clamp(WithDigits(value, DraggedDigits)),
        _ => spec.Clamp(Cleaned(Math.Round(value / StepOf(spec, fine: true)) * StepOf(spec, fine: true))),
    };

    private static double StepOf(ParameterSpec spec, bool fine) => spec.Unit switch
    {
        ParameterUnit.Decibels or ParameterUnit.DecibelsTruePeak or ParameterUnit.DecibelsPerOctave => fine ? 0.1 : 0.5,
        ParameterUnit.Percent => fine ? 0.5 : 2,
        _ => RoundStep((spec.Maximum - spec.Minimum) / (fine ? 1000 : 100)),
    };

    // The power of ten at or below.
    private static double RoundStep(double step) => Math.Pow(10, Math.Floor(Math.Log10(step)));

    private static double WithDigits(double value, int digits)
    {
        if (value == 0)
        {
            return 0;
        }

        int decimals = digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return decimals >= 0 ? Math.Round(value, Math.Min(decimals, 12)) : Math.Round(value * Math.Pow(10, decimals)) / Math.Pow(10, decimals);
    }

    // 0.1 · 3 is 0.30000000000000004.
    private static double Cleaned(double value) => Math.Round(value, 9);
}
