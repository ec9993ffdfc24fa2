namespace LiveStems.Analysis.Spectra;

/// <summary>
/// The spectrum of sound as it plays, in the bands of the long-term one: the level now, a peak that is held, and the mean
/// since the start.
/// </summary>
/// <remarks>
/// Feed it blocks of any length from the ring that the audio thread fills; it allocates nothing after construction, but
/// transforms take time that the audio thread has not got. Levels rise at once and fall by a time constant. One thread
/// at a time.
/// </remarks>
public sealed class LiveSpectrum : IBandFrameSink
{
    private readonly BandFrames frames;
    private readonly double sampleRate;
    private readonly double[] now;
    private readonly double[] held;
    private readonly double[] heldSeconds;
    private readonly double[] sums;
    private readonly double[] summedFrames;

    /// <summary>Prepares the spectrum for sound from 20 Hz to 20 kHz.</summary>
    /// <param name="sampleRate">Frames per second, 8 000 to 384 000.</param>
    /// <param name="bandsPerOctave">1 to 48; 3, 6, 12 and 24 are usual.</param>
    /// <param name="channel">What of the stereo sound is looked at.</param>
    public LiveSpectrum(int sampleRate, int bandsPerOctave, SpectrumChannel channel = SpectrumChannel.Both)
    {
        this.sampleRate = sampleRate;
        OctaveBand[] bands = FractionalOctaves.Audible(bandsPerOctave, sampleRate);
        frames = new BandFrames(bands, sampleRate, channel, this);
        now = new double[bands.Length];
        held = new double[bands.Length];
        heldSeconds = new double[bands.Length];
        sums = new double[bands.Length];
        summedFrames = new double[bands.Length];
    }

    /// <summary>The bands, upwards.</summary>
    public IReadOnlyList<OctaveBand> Bands => frames.Bands;

    /// <summary>Time constant by which levels fall, in seconds; 0 for none.</summary>
    public double FallSeconds { get; set; } = 0.2;

    /// <summary>How long a peak is held before it falls; infinite to hold it until <see cref="ClearPeaks"/>.</summary>
    public double HoldSeconds { get; set; } = 2;

    /// <summary>Adds any number of frames of sound; both channels have one length.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => frames.Add(left, right);

    /// <summary>Level of each band now, in dBFS.</summary>
    public void CopyLevels(Span<float> dbfs) => Copy(now, dbfs);

    /// <summary>Held peak of each band, in dBFS.</summary>
    public void CopyPeaks(Span<float> dbfs) => Copy(held, dbfs);

    /// <summary>Mean of each band since the start, in dBFS.</summary>
    public void CopyMeans(Span<float> dbfs)
    {
        for (int band = 0; band < sums.Length; band++)
        {
            dbfs[band] = (float)LevelHistogram.ToDbfs(summedFrames[band] > 0 ? sums[band] / summedFrames[band] : 0);
        }
    }

    /// <summary>Lets go of held peaks.</summary>
    public void ClearPeaks()
    {
        now.CopyTo(held, 0);
        Array.Clear(heldSeconds);
    }

    /// <summary>As if from silence: after a jump, or for another song.</summary>
    public void Reset()
    {
        frames.Reset();
        foreach (double[] values in new[] { now, held, heldSeconds, sums, summedFrames })
        {
            Array.Clear(values);
        }
    }

    void IBandFrameSink.Take(int firstBand, ReadOnlySpan<float> power, int hopFrames, bool isWhole)
    {
        double seconds = hopFrames / sampleRate;
        double kept = FallSeconds > 0 ? Math.Exp(-seconds / FallSeconds) : 0;
        for (int i = 0; i < power.Length; i++)
        {
            int band = firstBand + i;
            sums[band] += (double)power[i] * hopFrames;
            summedFrames[band] += hopFrames;
            now[band] = Math.Max(power[i], power[i] + (now[band] - power[i]) * kept);
            heldSeconds[band] += seconds;
            if (now[band] >= held[band])
            {
                held[band] = now[band];
                heldSeconds[band] = 0;
            }
            else if (heldSeconds[band] > HoldSeconds)
            {
                held[band] = now[band] + (held[band] - now[band]) * kept;
            }
        }
    }

    private static void Copy(double[] powers, Span<float> dbfs)
    {
        for (int band = 0; band < powers.Length; band++)
        {
            dbfs[band] = (float)LevelHistogram.ToDbfs(powers[band]);
        }
    }
}
