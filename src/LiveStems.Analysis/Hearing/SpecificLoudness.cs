namespace LiveStems.Analysis.Hearing;

/// <summary>
/// Specific loudness of a steady sound from its third-octave levels: E. Zwicker's procedure, DIN 45631 and ISO 532-1, free
/// field, stationary.
/// </summary>
/// <remarks>
/// The 28 levels from 25 Hz to 12.5 kHz become 20 critical bands (those below 315 Hz are joined after the equal-loudness
/// correction of low frequencies), their core loudness, and slopes towards higher critical-band rates. The tables are
/// <see cref="ZwickerTables"/>. The levels must come from filters with the slopes of IEC 61260: critical-band noise around
/// 1 kHz of 60 dB, which has 4 sone, comes out at 4.02 with <see cref="Spectra.OctaveBandFilter"/>, but at 3.5 when all of it
/// is put into one third octave, since what leaks into the neighbours counts.
/// </remarks>
public sealed class SpecificLoudness
{
    /// <summary>Steps of the pattern to one Bark.</summary>
    public const int StepsPerBark = 10;

    /// <summary>Steps of the pattern, 24 Bark.</summary>
    public const int Steps = 24 * StepsPerBark;

    private readonly double[] sonePerBark = new double[Steps];

    private SpecificLoudness()
    {
    }

    /// <summary>Specific loudness in sone per Bark, at 0.1, 0.2 … 24 Bark.</summary>
    public ReadOnlySpan<double> SonePerBark => sonePerBark;

    /// <summary>Loudness of the whole, sone.</summary>
    public double Sone
    {
        get
        {
            double sum = 0;
            foreach (double value in sonePerBark)
            {
                sum += value;
            }

            return sum / StepsPerBark;
        }
    }

    /// <summary>Critical-band rate of a step of the pattern.</summary>
    public static double BarkOf(int step) => (step + 1) / (double)StepsPerBark;

    /// <summary>The pattern of 28 third-octave levels, dB SPL, from 25 Hz to 12.5 kHz.</summary>
    /// <exception cref="ArgumentException">There are not 28 levels.</exception>
    public static SpecificLoudness OfThirdOctaves(ReadOnlySpan<double> levelsDb)
    {
        if (levelsDb.Length != ZwickerTables.ThirdOctaves)
        {
            throw new ArgumentException("28 third-octave levels from 25 Hz to 12.5 kHz are needed");
        }

        SpecificLoudness pattern = new();
        pattern.Spread(CoreLoudness(CriticalBandLevels(levelsDb)));
        return pattern;
    }

    private static double[] CriticalBandLevels(ReadOnlySpan<double> levelsDb)
    {
        double[] powers = new double[3];
        ReadOnlySpan<int> groupOf = [0, 0, 0, 0, 0, 0, 1, 1, 1, 2, 2];
        for (int band = 0; band < groupOf.Length; band++)
        {
            int range = 0;
            while (range < 7 && levelsDb[band] > ZwickerTables.LowRangeDb[range] - ZwickerTables.LowCorrectionDb[range][band])
            {
                range++;
            }

            powers[groupOf[band]] += Math.Pow(10, (levelsDb[band] + ZwickerTables.LowCorrectionDb[range][band]) / 10);
        }

        double[] levels = new double[20];
        for (int band = 0; band < 20; band++)
        {
            levels[band] = band < 3 ? (powers[band] > 0 ? 10 * Math.Log10(powers[band]) : -1000) : levelsDb[band + 8];
        }

        return levels;
    }

    private static double[] CoreLoudness(double[] levelsDb)
    {
        double[] core = new double[21];
        for (int band = 0; band < 20; band++)
        {
            double level = levelsDb[band] - ZwickerTables.TransmissionDb[band];
            double threshold = ZwickerTables.ThresholdDb[band];
            if (level > threshold)
            {
                level += -ZwickerTables.BandwidthDb[band];
                const double Share = 0.25;
                double atThreshold = 0.0635 * Math.Pow(10, 0.025 * threshold);
                double above = Math.Pow(1 - Share + Share * Math.Pow(10, 0.1 * (level - threshold)), 0.25) - 1;
                core[band] = Math.Max(0, atThreshold * above);
            }
        }

        double firstBand = Math.Min(1, 0.4 + 0.32 * Math.Pow(core[0], 0.2));
        core[0] *= firstBand;
        return core;
    }

    // Each band's upper neighbour hears it along a slope that is the flatter the louder; where slopes of several bands cross,
    // the highest is heard.
    private void Spread(double[] core)
    {
        double below = 0;
        double start = 0;
        int slope = 0;
        int step = 0;
        for (int band = 0; band < 21; band++)
        {
            double upper = ZwickerTables.UpperBark[band] + 0.0001;
            int column = Math.Max(0, Math.Min(band - 1, 7));
            while (start < upper)
            {
                double end;
                double next;
                if (below <= core[band])
                {
                    if (below < core[band])
                    {
                        slope = 0;
                        while (slope < 17 && ZwickerTables.SlopeFromSone[slope] > core[band])
                        {
                            slope++;
                        }
                    }

                    end = upper;
                    next = core[band];
                    Fill(ref step, end, _ => next);
                }
                else
                {
                    double steepness = ZwickerTables.Slope[slope][column];
                    next = Math.Max(ZwickerTables.SlopeFromSone[slope], core[band]);
                    double reach = (below - next) / steepness;
                    end = start + reach;
                    if (end > upper)
                    {
                        end = upper;
                        reach = end - start;
                        next = below - reach * steepness;
                    }

                    (double from, double top) = (start, below);
                    Fill(ref step, end, bark => top - (bark - from) * steepness);
                }

                while (slope < 17 && next <= ZwickerTables.SlopeFromSone[slope])
                {
                    slope++;
                }

                start = end;
                below = next;
            }
        }
    }

    private void Fill(ref int step, double endBark, Func<double, double> valueAt)
    {
        while (step < Steps && BarkOf(step) <= endBark)
        {
            sonePerBark[step] = Math.Max(0, valueAt(BarkOf(step)));
            step++;
        }
    }
}
