using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Dsp.Loudness;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Headroom;

/// <summary>Runs sound through a song's limiter at a drive above its setting, and writes down its work and the loudness behind it.</summary>
internal sealed class LimiterTrial
{
    // The deepest reduction of every such stretch is what time is counted in.
    private const int StretchFrames = 256;

    private readonly Processor limiter;
    private readonly LoudnessMeter loudness;
    private readonly float[] left = new float[StretchFrames];
    private readonly float[] right = new float[StretchFrames];
    private int toSkip;
    private long stretches;
    private long above1Db;
    private long above3Db;
    private double deepest;
    private double sum;

    /// <param name="slot">The limiter's settings.</param>
    /// <param name="driveDb">Gain in dB on top of its input gain.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="sampleRate">Frames per second.</param>
    public LimiterTrial(ChainSlot slot, double driveDb, ProcessorCatalogue catalogue, int sampleRate)
    {
        limiter = SongLimiter.Create(slot, driveDb, catalogue);
        limiter.Prepare(new ProcessingFormat(sampleRate, StretchFrames));
        loudness = new LoudnessMeter(sampleRate);
        toSkip = limiter.LatencyFrames;
    }

    /// <summary>Takes the next frames.</summary>
    public void Add(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
    {
        for (int done = 0; done < newLeft.Length; done += StretchFrames)
        {
            int frames = Math.Min(StretchFrames, newLeft.Length - done);
            newLeft.Slice(done, frames).CopyTo(left);
            newRight.Slice(done, frames).CopyTo(right);
            Run(frames);
        }
    }

    /// <summary>Runs out what is under way; the peaks of the figures are left at minus infinity.</summary>
    public HeadroomFigures Finish()
    {
        for (int rest = limiter.LatencyFrames; rest > 0; rest -= StretchFrames)
        {
            Array.Clear(left);
            Array.Clear(right);
            Run(Math.Min(rest, StretchFrames));
        }

        double count = Math.Max(1, stretches);
        return new HeadroomFigures(
            double.NegativeInfinity, double.NegativeInfinity, deepest, sum / count, above1Db / count, above3Db / count, loudness.IntegratedLufs);
    }

    private void Run(int frames)
    {
        limiter.Process(new StereoBlock(left.AsSpan(0, frames), right.AsSpan(0, frames)));
        double reduction = -limiter.GainReductionDb;
        stretches++;
        sum += reduction;
        deepest = Math.Max(deepest, reduction);
        above1Db += reduction > 1 ? 1 : 0;
        above3Db += reduction > 3 ? 1 : 0;
        int skipped = Math.Min(toSkip, frames);
        toSkip -= skipped;
        loudness.Add(left.AsSpan(skipped, frames - skipped), right.AsSpan(skipped, frames - skipped));
    }
}
