using System.Numerics;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// How each stem goes into the rough mix on one side: its response with what the other stems share with it taken out, and
/// how much of the mix that explains (multiple-input, single-output system: J. S. Bendat and A. G. Piersol, "Random Data",
/// sections 7.3 and 7.4).
/// </summary>
internal sealed class MixResponse
{
    // Conditions the matrix where stems are all but alike in a bin.
    private const double Ridge = 1e-9;

    private MixResponse(int stems, int bins)
    {
        Response = [.. Enumerable.Range(0, stems).Select(_ => new Complex[bins])];
        Coherence = [.. Enumerable.Range(0, stems).Select(_ => new double[bins])];
        Unexplained = new double[bins];
    }

    /// <summary>Response of each stem in each bin.</summary>
    public Complex[][] Response { get; }

    /// <summary>Partial coherence of each stem with the mix in each bin, 0 to 1, freed of what chance brings about.</summary>
    public double[][] Coherence { get; }

    /// <summary>Power of the mix in each bin that no filtering of the stems explains.</summary>
    public double[] Unexplained { get; }

    /// <summary>Solves for one side; the mix is the last of the signals.</summary>
    public static MixResponse Solve(CrossSpectra spectra, int stems, int side)
    {
        MixResponse result = new(stems, spectra.Bins);
        Parallel.For(0, spectra.Bins, () => new BinSystem(stems), (bin, _, system) =>
        {
            result.SolveBin(spectra, system, side, bin);
            return system;
        }, _ => { });
        return result;
    }

    private void SolveBin(CrossSpectra spectra, BinSystem system, int side, int bin)
    {
        int mix = Response.Length;
        double mixPower = spectra.Power(mix, side, bin);
        List<int> active = [.. Enumerable.Range(0, mix).Where(stem => spectra.Power(stem, side, bin) > 0)];
        if (active.Count == 0 || mixPower <= 0)
        {
            Unexplained[bin] = mixPower;
            return;
        }

        double[] scale = [.. active.Select(stem => 1 / Math.Sqrt(spectra.Power(stem, side, bin)))];
        Complex[,] matrix = system.Matrix;
        Complex[] mixed = new Complex[active.Count];
        for (int i = 0; i < active.Count; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                matrix[i, j] = spectra.At(active[i], active[j], side, bin) * scale[i] * scale[j];
            }

            matrix[i, i] += Ridge;
            mixed[i] = spectra.At(active[i], mix, side, bin) * scale[i];
        }

        system.Invert(active.Count);
        Complex[] solution = system.Times(mixed, active.Count);
        double explained = solution.Zip(mixed, (h, c) => (Complex.Conjugate(h) * c).Real).Sum();
        double freedom = Math.Max(0.9 * spectra.Frames - active.Count, 1);
        double rest = Math.Max(mixPower - explained, mixPower * 1e-14);
        Unexplained[bin] = rest;
        double chance = Math.Min(4 / freedom, 0.9);
        for (int i = 0; i < active.Count; i++)
        {
            // What the stem brings that no other brings.
            double own = (solution[i].Real * solution[i].Real + solution[i].Imaginary * solution[i].Imaginary) / system.Inverse[i, i].Real;
            double coherence = own / (own + rest);
            Coherence[active[i]][bin] = Math.Max((coherence - chance) / (1 - chance), 0);
            Response[active[i]][bin] = solution[i] * scale[i];
        }
    }
}
