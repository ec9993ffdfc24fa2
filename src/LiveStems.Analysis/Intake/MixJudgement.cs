using LiveStems.Analysis.Spectra;
using LiveStems.Dsp;

namespace LiveStems.Analysis.Intake;

/// <summary>Reads delays, polarities, gains and what is left over from the cross-spectra of the stems and the rough mix.</summary>
internal static class MixJudgement
{
    private const double OctavesFromHz = 31.5;

    /// <summary>Where each stem lies in the mix.</summary>
    public static (DelayEstimate[] Delays, MixResponse[] Sides) Locate(CrossSpectra spectra, int stems)
    {
        MixResponse[] sides = [MixResponse.Solve(spectra, stems, 0), MixResponse.Solve(spectra, stems, 1)];
        DelayEstimate[] delays = new DelayEstimate[stems];
        Parallel.For(0, stems, () => new DelaySearch(spectra.Size), (stem, _, search) =>
        {
            delays[stem] = search.Find(
                [.. sides.Select(side => side.Response[stem])],
                [.. sides.Select(side => side.Coherence[stem])]);
            return search;
        }, _ => { });
        return (delays, sides);
    }

    /// <summary>Fits gains and says what is left.</summary>
    /// <param name="spectra">With the stems moved by <paramref name="moved"/> already.</param>
    /// <param name="sides">The responses of these spectra.</param>
    /// <param name="found">The delays of these spectra.</param>
    /// <param name="moved">By how many frames each stem was moved to earlier.</param>
    /// <param name="leftOutShare">Share of the time that is not in the spectra.</param>
    /// <param name="sampleRate">The song's rate.</param>
    public static MixComparison Compare(CrossSpectra spectra, MixResponse[] sides, DelayEstimate[] found, long[] moved, double leftOutShare, int sampleRate)
    {
        double[] delays = [.. found.Select(each => each.IsKnown ? Snapped(each.Frames) : 0)];
        MixGains[] fits = [MixGains.Fit(spectra, 0, delays, sampleRate), MixGains.Fit(spectra, 1, delays, sampleRate)];
        StemInMix[] stems = [.. found.Select((each, stem) => Describe(each, stem, fits, spectra, moved[stem]))];
        double[] gains = [.. stems.Where(stem => stem.IsFound && double.IsFinite(stem.GainDb)).Select(stem => stem.GainDb).Order()];
        double median = gains.Length == 0 ? double.NaN : (gains[(gains.Length - 1) / 2] + gains[gains.Length / 2]) / 2;
        List<MixBand> bands = [];
        (double Mix, double Remainder, double Free) all = default;
        foreach (OctaveBand band in FractionalOctaves.Between(1, OctavesFromHz, 16_000).Where(each => each.MidHz < sampleRate / 2.0))
        {
            int first = (int)Math.Ceiling(band.LowerHz * spectra.Size / sampleRate);
            int end = Math.Min((int)Math.Ceiling(band.UpperHz * spectra.Size / sampleRate), spectra.Bins);
            double mix = 0, rest = 0, free = 0;
            for (int side = 0; side < 2; side++)
            {
                (double mixHere, double restHere) = fits[side].Between(first, end);
                mix += mixHere;
                rest += restHere;
                free += sides[side].Unexplained.AsSpan(first..end).ToArray().Sum();
            }

            bands.Add(new MixBand(band, Decibels.FromPower(rest / mix), Decibels.FromPower(free / mix)));
            all = (all.Mix + mix, all.Remainder + rest, all.Free + free);
        }

        return new MixComparison(stems, median, Decibels.FromPower(all.Remainder / all.Mix), Decibels.FromPower(all.Free / all.Mix), bands, leftOutShare);
    }

    // A few hundredths of a sample are what filters in the mix and rounding leave; whole samples are what a delivery is off by.
    private static double Snapped(double frames) => Math.Abs(frames - Math.Round(frames)) < 0.05 ? Math.Round(frames) : frames;

    private static StemInMix Describe(DelayEstimate found, int stem, MixGains[] fits, CrossSpectra spectra, long moved)
    {
        double[] gains = [.. fits.Select(fit => fit.Gains[stem] == 0 ? double.NaN : fit.Gains[stem])];
        double[] powers = [.. Enumerable.Range(0, 2).Select(side => Power(spectra, stem, side))];
        double power = 0, weight = 0;
        for (int side = 0; side < 2; side++)
        {
            if (double.IsFinite(gains[side]))
            {
                power += powers[side] * gains[side] * gains[side];
                weight += powers[side];
            }
        }

        return new StemInMix(
            found.IsKnown,
            moved - (found.IsKnown ? found.Frames : 0),
            new SidePair(gains[0], gains[1]),
            weight > 0 ? Decibels.FromPower(power / weight) : double.NaN,
            found.Agreement,
            new SidePair(found.Signs[0], found.Signs[1]));
    }

    private static double Power(CrossSpectra spectra, int signal, int side)
    {
        double sum = 0;
        for (int bin = 0; bin < spectra.Bins; bin++)
        {
            sum += spectra.Power(signal, side, bin);
        }

        return sum;
    }
}
