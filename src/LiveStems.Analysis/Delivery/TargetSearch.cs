using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Delivery;

/// <summary>Looks for the input gain at which a song's limiter meets its target; says by how much it is missed where it can't be.</summary>
/// <param name="title">Title of the song, for messages.</param>
/// <param name="limiter">The limiter.</param>
internal sealed class TargetSearch(string title, DrivenLimiter limiter)
{
    private const int MostTrials = 20;
    private const double SmallestStepDb = 0.001;

    // Peaks behind a limiter move by hundredths with its gain: what is promised, less the rounding of the gain.
    private const double AcceptedLu = 0.045;

    /// <summary>The gain in dB, rounded to thousandths.</summary>
    /// <param name="targets">A loudness, a least peak-to-loudness ratio, or both: then the quieter of the two.</param>
    /// <param name="mostReductionDb">Deepest reduction the limiter may reach, or null for any.</param>
    /// <exception cref="DeliveryException">The song is silent, or the target out of reach.</exception>
    public double Find(DeliveryTargets targets, double? mostReductionDb)
    {
        if (!double.IsFinite(limiter.At(limiter.PresentGainDb).Loudness.IntegratedLufs))
        {
            throw new DeliveryException($"'{title}' is silent; there is no loudness to set");
        }

        double? gain = targets.IntegratedLufs is { } loudness ? GainFor(loudness, targets.LeastPeakToLoudnessLu) : null;
        if (targets.LeastPeakToLoudnessLu is { } ratio && (gain is null || Missed(gain.Value, ratio)))
        {
            gain = GainForRatio(ratio);
        }

        if (mostReductionDb is { } most && limiter.At(gain!.Value).LargestReductionDb > most)
        {
            throw TooMuch(gain.Value, most);
        }

        return gain!.Value;
    }

    private bool Missed(double gain, double ratio) => limiter.At(gain).PeakToLoudnessLu < ratio - TargetLoudness.ToleranceLu;

    private double GainFor(double loudness, double? ratio)
    {
        (double gain, double reached) = Search(figures => figures.Loudness.IntegratedLufs, loudness);
        bool isMet = Math.Abs(reached - loudness) <= AcceptedLu;

        // Where the ratio holds the song back anyway, a loudness beyond the limiter's range is no fault.
        return isMet || (ratio is { } least && reached < loudness && Missed(gain, least))
            ? gain
            : throw new DeliveryException(
                $"'{title}' reaches {reached:0.0} LUFS at {(reached < loudness ? "most" : "least")} within the limiter's gain range; the target of {loudness:0.#} LUFS is {Math.Abs(loudness - reached):0.0} LU away");
    }

    private double GainForRatio(double ratio)
    {
        (double gain, double reached) = Search(figures => -figures.PeakToLoudnessLu, -ratio);
        double found = -reached;
        return Math.Abs(found - ratio) <= AcceptedLu ? gain
            : found < ratio ? throw new DeliveryException(
                $"'{title}' has {found:0.0} LU between true peak and loudness even with its limiter idle; the {ratio:0.#} LU asked for are {ratio - found:0.0} LU more: take compression or clipping before the limiter back")
            : throw new DeliveryException(
                $"'{title}' still has {found:0.0} LU between true peak and loudness at the limiter's highest gain; the {ratio:0.#} LU asked for are {found - ratio:0.0} LU less");
    }

    private DeliveryException TooMuch(double gain, double most)
    {
        double low = limiter.Range.Minimum;
        double high = gain;
        for (int i = 0; i < 12; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = limiter.At(middle).LargestReductionDb > most ? (low, middle) : (middle, high);
        }

        double reached = limiter.At(low).Loudness.IntegratedLufs;
        DrivenFigures wanted = limiter.At(gain);
        return new DeliveryException(
            $"'{title}' reaches {reached:0.0} LUFS with at most {most:0.#} dB of limiting; its target needs {wanted.LargestReductionDb:0.0} dB, {wanted.Loudness.IntegratedLufs - reached:0.0} LU are missing");
    }

    // Loudness rises with gain, dB for dB at first and less and less as the limiter takes it back; the ratio falls the more
    // the more the limiter takes: a secant inside a bracket that closes.
    private (double Gain, double Reached) Search(Func<DrivenFigures, double> measured, double wanted)
    {
        double gain = Math.Round(limiter.PresentGainDb, 3);
        double lastGain = gain;
        double low = limiter.Range.Minimum;
        double high = limiter.Range.Maximum;
        double slope = 1;
        double reached = double.NaN;
        (double Gain, double Reached) best = (gain, double.PositiveInfinity);
        for (int trial = 0; trial < MostTrials; trial++)
        {
            double before = reached;
            double step = gain - lastGain;
            reached = measured(limiter.At(gain));
            double missing = wanted - reached;
            best = Math.Abs(missing) < Math.Abs(wanted - best.Reached) ? (gain, reached) : best;
            if (Math.Abs(missing) <= TargetLoudness.ToleranceLu)
            {
                break;
            }

            (low, high) = missing > 0 ? (gain, high) : (low, gain);
            if (trial > 0 && step != 0)
            {
                slope = Math.Clamp((reached - before) / step, 0.05, 1);
            }

            lastGain = gain;
            double next = gain + missing / slope;
            gain = Math.Round(next <= low || next >= high ? (low + high) / 2 : next, 3);
            if (Math.Abs(gain - lastGain) < SmallestStepDb)
            {
                break;
            }
        }

        return best;
    }
}
