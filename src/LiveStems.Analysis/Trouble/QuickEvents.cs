using System.Collections.Immutable;
using System.Numerics;
using LiveStems.Analysis.Spectra;

namespace LiveStems.Analysis.Trouble;

/// <summary>Sharp consonants and pick clicks, counted as they pass, from frames of 43 ms every 11 ms.</summary>
internal sealed class QuickEvents : IPowerFrameSink
{
    private const double FrameSeconds = 0.043;
    private const double VoiceDecaySeconds = 2;
    private const double SharpBelowVoiceDb = 24;
    private const double OnsetRiseDb = 10;
    private const double OnsetSeconds = 0.03;
    private const double OnsetBelowLoudDb = 25;
    private const double PeakSeconds = 0.06;
    private const double FallSeconds = 0.08;
    private const double QuietestDb = -75;

    private static readonly (double LowHz, double HighHz)[] Ranges = [(200, 4000), (5500, 10_000), (3000, 5000), (1000, 2000), (7000, 9000)];

    private readonly PowerFrames frames;
    private readonly int[] first;
    private readonly int[] end;
    private readonly double[] level = new double[Ranges.Length];
    private readonly double[] clicksBefore;
    private readonly double hopSeconds;
    private readonly double firstSeconds;
    private readonly double decayDb;
    private readonly RangeList sharp = new(0.25);
    private readonly RangeList clicks = new(0.6);
    private double voiceDb = -200;
    private double loudClickDb = -200;
    private double onsetAt = double.NegativeInfinity;
    private double peakAt;
    private double peakClickDb;
    private double peakBodyDb;
    private double peakAboveDb;
    private long frame;

    public QuickEvents(int sampleRate)
    {
        int size = Math.Clamp((int)BitOperations.RoundUpToPowerOf2((uint)(FrameSeconds * sampleRate * 0.71)), 64, 65_536);
        frames = new PowerFrames(size, SpectrumChannel.Both, this);
        double binHz = (double)sampleRate / size;
        first = [.. Ranges.Select(range => Math.Min(frames.Bins - 1, (int)Math.Ceiling(range.LowHz / binHz)))];
        end = [.. Ranges.Select(range => Math.Min(frames.Bins, (int)Math.Ceiling(range.HighHz / binHz)))];
        hopSeconds = (double)frames.HopFrames / sampleRate;
        firstSeconds = hopSeconds - (double)size / sampleRate / 2;
        decayDb = 8.686 * hopSeconds / VoiceDecaySeconds;
        clicksBefore = new double[Math.Max(1, (int)(OnsetSeconds / hopSeconds))];
        Array.Fill(clicksBefore, -200);
    }

    /// <summary>Levels of sharp frames beside the voice's own level, dB.</summary>
    public LevelHistogram SharpDb { get; } = new();

    /// <summary>Levels per Hz of onsets in the range of clicks beside the ranges below and above, dB.</summary>
    public LevelHistogram ClickDb { get; } = new();

    /// <summary>How much farther the range of clicks falls in 80 ms after the peak of an onset than the note below it does, dB.</summary>
    public LevelHistogram ClickFallDb { get; } = new();

    /// <summary>Level of sharp frames, dB of mean square.</summary>
    public LevelHistogram SharpLevelDb { get; } = new();

    /// <summary>Level of clicks, dB of mean square.</summary>
    public LevelHistogram ClickLevelDb { get; } = new();

    public long SharpFrames => SharpDb.Count;

    public long Clicks => ClickDb.Count;

    public double HopSeconds => hopSeconds;

    public ImmutableArray<TimeRange> SharpRanges(double seconds) => sharp.Within(seconds);

    public ImmutableArray<TimeRange> ClickRanges(double seconds) => clicks.Within(seconds);

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => frames.Add(left, right);

    public void Finish() => frames.Finish();

    void IPowerFrameSink.Take(ReadOnlySpan<float> bins, bool isWhole)
    {
        for (int range = 0; range < Ranges.Length; range++)
        {
            double sum = 1e-20;
            for (int bin = first[range]; bin < end[range]; bin++)
            {
                sum += bins[bin];
            }

            level[range] = 10 * Math.Log10(sum);
        }

        double at = firstSeconds + frame * hopSeconds;
        TakeSharp(at);
        TakeClick(at);
        frame++;
    }

    private void TakeSharp(double at)
    {
        voiceDb = Math.Max(level[0], voiceDb - decayDb);
        if (level[1] > level[0] && level[1] > voiceDb - SharpBelowVoiceDb && level[1] > QuietestDb)
        {
            SharpDb.Add(level[1] - voiceDb);
            SharpLevelDb.Add(level[1]);
            sharp.Add(new TimeRange(at - hopSeconds / 2, at + hopSeconds / 2));
        }
    }

    private void TakeClick(double at)
    {
        int slot = (int)(frame % clicksBefore.Length);
        double rise = level[2] - clicksBefore[slot];
        clicksBefore[slot] = level[2];
        loudClickDb = Math.Max(level[2], loudClickDb - decayDb / 4);
        if (double.IsNegativeInfinity(onsetAt))
        {
            if (rise > OnsetRiseDb && level[2] > loudClickDb - OnsetBelowLoudDb && level[2] > QuietestDb - 10)
            {
                onsetAt = at;
                TakePeak(at);
            }
        }
        else if (level[2] > peakClickDb && at - onsetAt < PeakSeconds)
        {
            TakePeak(at);
        }
        else if (at - peakAt >= FallSeconds)
        {
            ClickDb.Add(peakAboveDb);
            ClickFallDb.Add(peakClickDb - level[2] - (peakBodyDb - level[3]));
            ClickLevelDb.Add(peakClickDb);
            clicks.Add(new TimeRange(onsetAt, onsetAt + FrameSeconds));
            onsetAt = double.NegativeInfinity;
        }
    }

    private void TakePeak(double at)
    {
        peakAt = at;
        peakClickDb = level[2];
        peakBodyDb = level[3];
        peakAboveDb = PerHz(2) - 0.5 * (PerHz(3) + PerHz(4));
    }

    private double PerHz(int range) => level[range] - 10 * Math.Log10(Ranges[range].HighHz - Ranges[range].LowHz);
}
