namespace LiveStems.Analysis.Trouble;

/// <summary>Levels of the bins up to 1 kHz that are there even in the quietest fifth of the frames: what never stops.</summary>
internal sealed class HumLines(int sampleRate, int frameSize)
{
    private const double HighestHz = 1000;
    private const double LowestDb = -150;
    private const int Levels = 80;
    private const double StepDb = 2;

    private readonly double binHz = (double)sampleRate / frameSize;
    private readonly ushort[] counts = new ushort[((int)(HighestHz * frameSize / sampleRate) + 1) * Levels];
    private int frames;

    public void Add(ReadOnlySpan<float> power)
    {
        if (frames == ushort.MaxValue)
        {
            return;
        }

        frames++;
        int bins = Math.Min(power.Length, counts.Length / Levels);
        for (int bin = 0; bin < bins; bin++)
        {
            double db = 10 * MathF.Log10(power[bin] + 1e-18f);
            counts[bin * Levels + Math.Clamp((int)((db - LowestDb) / StepDb), 0, Levels - 1)]++;
        }
    }

    /// <summary>Lines of a mains frequency that never stop: multiples that stand above their surroundings, with their levels in dB.</summary>
    public List<(double Hz, double LevelDb, double AboveDb)> Of(double mainsHz)
    {
        List<(double, double, double)> lines = [];
        for (int multiple = 1; multiple <= 12; multiple++)
        {
            int bin = (int)Math.Round(mainsHz * multiple / binHz);
            if (bin + 12 >= counts.Length / Levels)
            {
                break;
            }

            double own = Math.Max(Quiet(bin), Math.Max(Quiet(bin - 1), Quiet(bin + 1)));
            double[] around = [.. Enumerable.Range(4, 9).SelectMany(away => new[] { Quiet(bin - away), Quiet(bin + away) }).Order()];
            double above = own - around[around.Length * 3 / 4];
            if (above >= 8 && own > -125)
            {
                lines.Add((mainsHz * multiple, own, above));
            }
        }

        return lines;
    }

    private double Quiet(int bin)
    {
        int rank = Math.Max(1, frames / 5);
        int seen = 0;
        int level = -1;
        while (seen < rank && level < Levels - 1)
        {
            seen += counts[Math.Max(0, bin) * Levels + ++level];
        }

        return LowestDb + (level + 0.5) * StepDb;
    }
}
