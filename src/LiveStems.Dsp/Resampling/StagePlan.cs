namespace LiveStems.Dsp.Resampling;

/// <summary>Which stages lead from one rate to another.</summary>
/// <remarks>
/// Far above the lower rate halving and doubling cost least, since their filters are short; the filter that decides what is
/// heard is done once, near the lower rate, where its transforms are small. Rates without small common factors get there by a
/// power of two and an interpolation from a rate at which half the band or more is empty.
/// </remarks>
internal static class StagePlan
{
    /// <summary>The rates on both sides of the filter are at most so many times the lower rate.</summary>
    private const int MostSteep = 4;

    /// <summary>From this ratio on fewer taps for each frame are worth a higher rate before the interpolation.</summary>
    private const int Long = 6;

    public static PairStage[] Make(int fromRate, int toRate)
    {
        int lower = Math.Min(fromRate, toRate);
        List<PairStage> stages = [];
        int halvings = 0;
        for (; fromRate > MostSteep * lower << halvings; halvings++)
        {
            stages.Add(new HalvingStage(HalfBandTaps.For((double)(2 * lower << halvings) / fromRate)));
        }

        int doublings = 0;
        while (toRate > MostSteep * lower << doublings)
        {
            doublings++;
        }

        // Rates between the stages as shares: no whole numbers of hertz are needed.
        double lowerShare = (double)(lower << halvings) / fromRate;
        if (SpectralPlan.For(new ResamplingRatio(fromRate << doublings, toRate << halvings), lowerShare) is { } plan)
        {
            stages.Add(new SpectralStage(plan));
            for (int left = doublings; left > 0; left--)
            {
                stages.Add(new DoublingStage(HalfBandTaps.For((double)(lower << left) / toRate)));
            }
        }
        else
        {
            AddInterpolation(stages, fromRate, toRate, halvings, lowerShare);
        }

        return [.. stages];
    }

    private static void AddInterpolation(List<PairStage> stages, int fromRate, int toRate, int halvings, double lowerShare)
    {
        int aimed = toRate >= Long * fromRate ? 4 : 2;
        int factor = 1;
        while (factor < aimed * lowerShare)
        {
            factor *= 2;
        }

        SpectralPlan plan = SpectralPlan.For(new ResamplingRatio(1, factor), lowerShare)!;
        stages.Add(new SpectralStage(plan));
        stages.Add(new InterpolatingStage(
            new ResamplingRatio(fromRate * factor, toRate << halvings), InterpolationTable.For(lowerShare / factor)));
    }
}
