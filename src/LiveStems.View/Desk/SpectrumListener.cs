using LiveStems.Analysis.Spectra;

namespace LiveStems.View.Desk;

/// <summary>The spectrum of one tap: live, held, long-term and percentiles.</summary>
internal sealed class SpectrumListener
{
    private const double PeakSeconds = 2;
    private const double LowShare = 0.1;
    private const double HighShare = 0.9;

    private readonly LiveSpectrum spectrum;
    private readonly LevelHistogram[] histograms;
    private readonly float[] levels;

    public SpectrumListener(int sampleRate)
    {
        spectrum = new LiveSpectrum(sampleRate, SpectrumModel.BandsPerOctave) { HoldSeconds = PeakSeconds };
        histograms = [.. spectrum.Bands.Select(_ => new LevelHistogram())];
        levels = new float[histograms.Length];
    }

    public void Hold(bool untilCleared) => spectrum.HoldSeconds = untilCleared ? double.PositiveInfinity : PeakSeconds;

    public void Clear()
    {
        spectrum.Reset();
        foreach (LevelHistogram histogram in histograms)
        {
            histogram.Reset();
        }
    }

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => spectrum.Add(left, right);

    /// <summary>Counts the present levels; silence is no part of the music.</summary>
    public void Count()
    {
        spectrum.CopyLevels(levels);
        for (int i = 0; i < levels.Length; i++)
        {
            if (levels[i] > -150)
            {
                histograms[i].Add(levels[i]);
            }
        }
    }

    public void CopyTo(SpectrumCurves curves)
    {
        spectrum.CopyLevels(curves.Live);
        spectrum.CopyPeaks(curves.Peak);
        spectrum.CopyMeans(curves.LongTerm);
    }

    public void CopyPercentiles(float[] low, float[] high)
    {
        for (int i = 0; i < histograms.Length; i++)
        {
            bool any = histograms[i].Count > 0;
            low[i] = any ? (float)histograms[i].Percentile(LowShare) : float.NegativeInfinity;
            high[i] = any ? (float)histograms[i].Percentile(HighShare) : float.NegativeInfinity;
        }
    }
}
