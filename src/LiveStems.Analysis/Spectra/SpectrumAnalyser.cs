namespace LiveStems.Analysis.Spectra;

/// <summary>
/// The long-term spectrum of sound that comes in blocks: bands, percentiles, lines and tilt. Memory does not grow with the
/// length of the sound; results do not depend on the blocks it comes in.
/// </summary>
/// <remarks>
/// Levels of bands hold the power between their edges (a rectangular band over a Welch spectrum); crest comes from real
/// band filters, since a spectrum knows nothing of peaks. One thread at a time.
/// </remarks>
public sealed class SpectrumAnalyser : IBandFrameSink, IPowerFrameSink
{
    private readonly int bandsPerOctave;
    private readonly BandFrames frames;
    private readonly BandStatistics[] statistics;
    private readonly double[] lines;
    private readonly BandCrest? crest;
    private long count;

    /// <summary>Prepares the analyser for sound from 20 Hz to 20 kHz.</summary>
    /// <param name="sampleRate">Frames per second, 8 000 to 384 000.</param>
    /// <param name="bandsPerOctave">1 to 48; 3, 6, 12 and 24 are usual.</param>
    /// <param name="channel">What of the stereo sound is looked at.</param>
    /// <param name="withCrest">True to measure the crest of every band, which takes ten times as long.</param>
    public SpectrumAnalyser(int sampleRate, int bandsPerOctave, SpectrumChannel channel = SpectrumChannel.Both, bool withCrest = false)
    {
        this.bandsPerOctave = bandsPerOctave;
        OctaveBand[] bands = FractionalOctaves.Audible(bandsPerOctave, sampleRate);
        frames = new BandFrames(bands, sampleRate, channel, this, this);
        statistics = [.. bands.Select(_ => new BandStatistics(sampleRate))];
        lines = new double[frames.LineSize / 2 + 1];
        crest = withCrest ? new BandCrest(bands, sampleRate) : null;
    }

    /// <summary>Adds any number of frames of sound; both channels have one length.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        count += left.Length;
        frames.Add(left, right);
        crest?.Add(left, right);
    }

    /// <summary>Ends the sound and reads the spectrum.</summary>
    public LongTermSpectrum Finish()
    {
        frames.Finish();
        BandLevel[] levels = [.. statistics.Select((each, band) => each.Read(frames.Bands[band], count, crest?.Db(band)))];
        double scale = count == 0 ? 0 : frames.LineSize / 4 / (double)count;
        return new LongTermSpectrum(
            frames.SampleRate, count, bandsPerOctave, levels, frames.LineSize, [.. lines.Select(line => line * scale)], PinkTilt.Of(levels));
    }

    void IBandFrameSink.Take(int firstBand, ReadOnlySpan<float> power, int hopFrames, bool isWhole)
    {
        for (int i = 0; i < power.Length; i++)
        {
            statistics[firstBand + i].Add(power[i], hopFrames, isWhole);
        }
    }

    void IPowerFrameSink.Take(ReadOnlySpan<float> power, bool isWhole)
    {
        for (int k = 0; k < lines.Length; k++)
        {
            lines[k] += power[k];
        }
    }
}
