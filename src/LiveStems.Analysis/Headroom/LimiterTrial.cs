using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Headroom;

/// <summary>Runs sound through a song's limiter at a drive above its setting, and writes down its work and the loudness behind it.</summary>
internal sealed class LimiterTrial
{
    // The deepest reduction of every such stretch is what time is counted in.
    private const int StretchFrames = 256;

    private readonly Processor limiter;
    private readonly IntegratedLoudness loudness;
    private readonly long counted;

    // The loudness is that of the render, which ends with its last audible frame.
    private readonly TailTrimmer tail;
    private readonly float[] left = new float[StretchFrames];
    private readonly float[] right = new float[StretchFrames];
    private int filled;
    private long stretches;
    private long above1Db;
    private long above3Db;
    private double deepest;
    private double sum;

    /// <param name="slot">The limiter's settings.</param>
    /// <param name="driveDb">Gain in dB on top of its input gain.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="countedFrames">Frames from the start that count for mean and shares: to the end of the longest stem.</param>
    public LimiterTrial(ChainSlot slot, double driveDb, ProcessorCatalogue catalogue, int sampleRate, long countedFrames)
    {
        limiter = SongLimiter.Create(slot, driveDb, catalogue);
        limiter.Prepare(new ProcessingFormat(sampleRate, StretchFrames));
        loudness = new IntegratedLoudness(sampleRate);
        tail = new TailTrimmer(new Meter(loudness), limiter.LatencyFrames, countedFrames, sampleRate);
        counted = (countedFrames + limiter.LatencyFrames + StretchFrames - 1) / StretchFrames;
    }

    /// <summary>Takes the next frames.</summary>
    public void Add(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
    {
        while (newLeft.Length > 0)
        {
            int frames = Math.Min(StretchFrames - filled, newLeft.Length);
            newLeft[..frames].CopyTo(left.AsSpan(filled));
            newRight[..frames].CopyTo(right.AsSpan(filled));
            newLeft = newLeft[frames..];
            newRight = newRight[frames..];
            filled += frames;
            if (filled == StretchFrames)
            {
                Run();
            }
        }
    }

    /// <summary>Runs out what is under way; the peaks of the figures are left at minus infinity.</summary>
    public HeadroomFigures Finish()
    {
        float[] silence = new float[limiter.LatencyFrames];
        Add(silence, silence);
        if (filled > 0)
        {
            Run();
        }

        double count = Math.Max(1, stretches);
        return new HeadroomFigures(
            double.NegativeInfinity, double.NegativeInfinity, deepest, sum / count, above1Db / count, above3Db / count, loudness.Lufs);
    }

    private void Run()
    {
        int frames = filled;
        filled = 0;
        limiter.Process(new StereoBlock(left.AsSpan(0, frames), right.AsSpan(0, frames)));
        double reduction = -limiter.GainReductionDb;
        deepest = Math.Max(deepest, reduction);
        if (stretches < counted)
        {
            stretches++;
            sum += reduction;
            above1Db += reduction > 1 ? 1 : 0;
            above3Db += reduction > 3 ? 1 : 0;
        }

        tail.Write(left.AsSpan(0, frames), right.AsSpan(0, frames));
    }

    private sealed class Meter(IntegratedLoudness loudness) : IRenderSink
    {
        public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => loudness.Add(left, right);
    }
}
