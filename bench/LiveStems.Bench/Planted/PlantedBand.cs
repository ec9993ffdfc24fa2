using LiveStems.Analysis.Spectra;

namespace LiveStems.Bench.Planted;

/// <summary>Mean power per bin of one band of a sound, row for row as <see cref="PlantedSpectrum"/> has them.</summary>
internal sealed class PlantedBand : IPowerFrameSink
{
    private readonly double low;
    private readonly double high;
    private readonly List<double> powers = [];

    private PlantedBand(double low, double high)
    {
        this.low = low;
        this.high = high;
    }

    public static double[] Powers(float[][] sound, int sampleRate, double lowHz, double highHz)
    {
        double binHz = (double)sampleRate / PlantedSpectrum.FrameSize;
        PlantedBand band = new(lowHz / binHz + 0.5, highHz / binHz + 0.5);
        PowerFrames frames = new(PlantedSpectrum.FrameSize, SpectrumChannel.Both, band);
        frames.Add(sound[0], sound[^1]);
        frames.Finish();
        return [.. band.powers];
    }

    void IPowerFrameSink.Take(ReadOnlySpan<float> bins, bool isWhole)
    {
        double sum = 0;
        for (int bin = (int)low; bin <= Math.Min(bins.Length - 1, (int)high); bin++)
        {
            sum += bins[bin] * (Math.Min(high, bin + 1) - Math.Max(low, bin));
        }

        powers.Add(sum / (high - low));
    }
}
