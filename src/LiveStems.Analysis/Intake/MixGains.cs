using System.Numerics;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// The gains of the stems whose sum comes closest to the rough mix, for one side (least squares over all bins), and what is
/// left of the mix then.
/// </summary>
internal sealed class MixGains
{
    private const double Ridge = 1e-10;

    // Below, offsets and rumble would weigh on gains that the ear judges elsewhere.
    private const double LowestHz = 20;

    private readonly CrossSpectra spectra;
    private readonly int side;
    private readonly int firstBin;
    private readonly double[] delays;
    private readonly int[] stems;
    private readonly double[] gains;

    private MixGains(CrossSpectra spectra, int side, double[] delays, int sampleRate)
    {
        this.spectra = spectra;
        this.side = side;

        // A constant offset reaches two bins far through a Hann window.
        firstBin = Math.Max((int)Math.Ceiling(LowestHz * spectra.Size / sampleRate), 2);
        this.delays = delays;
        gains = new double[delays.Length];
        stems = [.. Enumerable.Range(0, delays.Length).Where(stem => Total(stem) > 0)];
    }

    /// <summary>Gain of each stem, negative when it is upside down; 0 for a silent one.</summary>
    public IReadOnlyList<double> Gains => gains;

    /// <summary>Fits the gains with the stems moved by known delays.</summary>
    /// <param name="spectra">The mix is the last of the signals.</param>
    /// <param name="side">0 left, 1 right.</param>
    /// <param name="delays">By how many frames the mix follows each stem.</param>
    /// <param name="sampleRate">Frames per second.</param>
    public static MixGains Fit(CrossSpectra spectra, int side, double[] delays, int sampleRate)
    {
        MixGains fit = new(spectra, side, delays, sampleRate);
        fit.Solve();
        return fit;
    }

    /// <summary>Power of the mix and of what is left of it between two bins.</summary>
    public (double Mix, double Remainder) Between(int firstBin, int endBin)
    {
        int mix = delays.Length;
        double mixPower = 0, rest = 0;
        for (int bin = firstBin; bin < endBin; bin++)
        {
            double power = spectra.Power(mix, side, bin);
            double left = power;
            foreach (int i in stems)
            {
                left -= 2 * gains[i] * ToMix(i, bin).Real;
                foreach (int j in stems)
                {
                    left += gains[i] * gains[j] * Product(i, j, bin).Real;
                }
            }

            mixPower += power;
            rest += left;
        }

        return (mixPower, Math.Max(rest, 0));
    }

    private void Solve()
    {
        int count = stems.Length;
        if (count == 0)
        {
            return;
        }

        double[,] matrix = new double[count, count];
        double[] right = new double[count];
        Parallel.For(0, count, i =>
        {
            for (int bin = firstBin; bin < spectra.Bins - 1; bin++)
            {
                right[i] += ToMix(stems[i], bin).Real;
                for (int j = 0; j < count; j++)
                {
                    matrix[i, j] += Product(stems[i], stems[j], bin).Real;
                }
            }

            matrix[i, i] *= 1 + Ridge;
        });
        double[] solution = Cholesky(matrix, right);
        for (int i = 0; i < count; i++)
        {
            gains[stems[i]] = solution[i];
        }
    }

    private double Total(int stem)
    {
        double total = 0;
        for (int bin = 0; bin < spectra.Bins; bin++)
        {
            total += spectra.Power(stem, side, bin);
        }

        return total;
    }

    private Complex ToMix(int stem, int bin) => spectra.At(stem, delays.Length, side, bin) * Turn(bin, delays[stem]);

    private Complex Product(int first, int second, int bin) =>
        delays[first] == delays[second]
            ? spectra.At(first, second, side, bin)
            : spectra.At(first, second, side, bin) * Turn(bin, delays[first] - delays[second]);

    private Complex Turn(int bin, double frames) =>
        frames == 0 ? Complex.One : Complex.FromPolarCoordinates(1, 2 * Math.PI * (bin * frames / spectra.Size % 1));

    private static double[] Cholesky(double[,] matrix, double[] right)
    {
        int count = right.Length;
        double[] solution = [.. right];
        double[,] factor = new double[count, count];
        for (int j = 0; j < count; j++)
        {
            for (int i = j; i < count; i++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++)
                {
                    sum -= factor[i, k] * factor[j, k];
                }

                factor[i, j] = i == j ? Math.Sqrt(Math.Max(sum, matrix[j, j] * 1e-14)) : sum / factor[j, j];
            }
        }

        for (int i = 0; i < count; i++)
        {
            for (int k = 0; k < i; k++)
            {
                solution[i] -= factor[i, k] * solution[k];
            }

            solution[i] /= factor[i, i];
        }

        for (int i = count - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < count; k++)
            {
                solution[i] -= factor[k, i] * solution[k];
            }

            solution[i] /= factor[i, i];
        }

        return solution;
    }
}
