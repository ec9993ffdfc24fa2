using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;

namespace LiveStems.View.Desk;

/// <summary>Meters of the master: takes sound in on one thread, is read by another.</summary>
internal sealed class MasterListener
{
    private const int PublishPerSecond = 60;
    private const double CorrelationSeconds = 0.3;

    private readonly int sampleRate;
    private readonly int publishFrames;
    private readonly LoudnessMeter loudness;
    private readonly LoudnessMeter integrated;
    private readonly TruePeakMeter peaks = new();
    private readonly CorrelationMeter correlation;
    private readonly FallingPeak leftPeak = new();
    private readonly FallingPeak rightPeak = new();
    private double maximumTruePeak;
    private long measuredFrames;
    private int sincePublished;
    private bool isRunning = true;
    private MeterReadings readings = MeterReadings.Silence;

    public MasterListener(int sampleRate)
    {
        this.sampleRate = sampleRate;
        publishFrames = sampleRate / PublishPerSecond;
        loudness = new LoudnessMeter(sampleRate);
        integrated = new LoudnessMeter(sampleRate);
        correlation = new CorrelationMeter(CorrelationSeconds * sampleRate);
    }

    /// <summary>The newest readings.</summary>
    public MeterReadings Readings => Volatile.Read(ref readings);

    /// <summary>Starts what adds up anew.</summary>
    public void Reset()
    {
        integrated.Reset();
        maximumTruePeak = 0;
        measuredFrames = 0;
    }

    /// <summary>Lets what adds up go on, or holds it.</summary>
    public void Run(bool runs) => isRunning = runs;

    /// <summary>Takes sound in.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        while (left.Length > 0)
        {
            int frames = Math.Min(left.Length, publishFrames - sincePublished);
            Measure(left[..frames], right[..frames]);
            left = left[frames..];
            right = right[frames..];
            sincePublished += frames;
            if (sincePublished == publishFrames)
            {
                sincePublished = 0;
                Publish();
            }
        }
    }

    private void Measure(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        loudness.Add(left, right);
        peaks.Add(left, right);
        correlation.Add(left, right);
        if (isRunning && (measuredFrames > 0 || loudness.MomentaryLufs > double.NegativeInfinity))
        {
            // Before the first sound there is nothing to measure.
            integrated.Add(left, right);
            measuredFrames += left.Length;
        }
    }

    private void Publish()
    {
        double seconds = (double)publishFrames / sampleRate;
        leftPeak.Add(Decibels.ToAmplitude(peaks.LeftTruePeakDbtp), seconds);
        rightPeak.Add(Decibels.ToAmplitude(peaks.RightTruePeakDbtp), seconds);
        if (isRunning)
        {
            maximumTruePeak = Math.Max(maximumTruePeak, Decibels.ToAmplitude(peaks.TruePeakDbtp));
        }

        peaks.ClearPeaks();
        Volatile.Write(ref readings, new MeterReadings(
            loudness.MomentaryLufs,
            loudness.ShortTermLufs,
            integrated.IntegratedLufs,
            integrated.LoudnessRangeLu,
            integrated.MaximumMomentaryLufs,
            integrated.MaximumShortTermLufs,
            Decibels.FromAmplitude(maximumTruePeak),
            leftPeak.Db,
            rightPeak.Db,
            correlation.Value,
            (double)measuredFrames / sampleRate));
    }
}
