using LiveStems.Dsp;

namespace LiveStems.Engine.Comparing;

/// <summary>
/// Integrated loudness of a stretch given as K-weighted mean squares of tenths of a second: blocks of 400 ms that overlap
/// by 75 %, the absolute gate at −70 LUFS and the relative gate 10 LU below (ITU-R BS.1770-5 Annex 1, equations 3 to 7).
/// </summary>
internal static class GatedSteps
{
    private const int StepsInBlock = 4;
    private const double OffsetDb = -0.691;

    private static readonly double AbsoluteGate = Decibels.ToPower(-70 - OffsetDb);
    private static readonly double RelativeGate = Decibels.ToPower(-10);

    /// <summary>Loudness in LUFS; −∞ when no block passes the gates.</summary>
    public static double Lufs(ReadOnlySpan<double> steps)
    {
        double gate = Math.Max(AbsoluteGate, RelativeGate * MeanAbove(steps, AbsoluteGate));
        return OffsetDb + Decibels.FromPower(MeanAbove(steps, gate));
    }

    private static double MeanAbove(ReadOnlySpan<double> steps, double gate)
    {
        double sum = 0;
        int blocks = 0;
        for (int i = 0; i + StepsInBlock <= steps.Length; i++)
        {
            double block = (steps[i] + steps[i + 1] + steps[i + 2] + steps[i + 3]) / StepsInBlock;
            if (block > gate)
            {
                sum += block;
                blocks++;
            }
        }

        return blocks == 0 ? 0 : sum / blocks;
    }
}
