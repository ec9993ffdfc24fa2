using LiveStems.Albums.Model;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Headroom;

/// <summary>Runs the sum of a song's stems through the song bus and writes down what reaches the limiter and what it does.</summary>
internal sealed class BusTrial
{
    /// <summary>Frames at a time, the longest that <see cref="Add"/> takes.</summary>
    public const int BlockFrames = 2048;

    private readonly ChainRunner before;
    private readonly LimiterTrial limiter;
    private readonly TruePeakMeter peaks = new();
    private readonly IRenderSink? copy;
    private readonly float[] left = new float[BlockFrames];
    private readonly float[] right = new float[BlockFrames];
    private int toSkip;

    /// <param name="bus">The song bus, its limiter last.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="copy">Takes what reaches the limiter, aligned with the input; may be null.</param>
    public BusTrial(Chain bus, ProcessorCatalogue catalogue, int sampleRate, IRenderSink? copy = null)
    {
        before = new ChainRunner(bus with { Slots = bus.Slots[..^1] }, catalogue, new ProcessingFormat(sampleRate, BlockFrames));
        limiter = new LimiterTrial(bus.Slots[^1], 0, catalogue, sampleRate);
        toSkip = before.LatencyFrames;
        this.copy = copy;
    }

    /// <summary>Names of the stems that the bus listens to.</summary>
    public IReadOnlyCollection<string> Keys => before.Keys;

    /// <summary>Gives the sound of a key for the next block.</summary>
    public void SetKey(string stem, ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight) => before.SetKey(stem, keyLeft, keyRight);

    /// <summary>Takes the next frames of the sum, at most <see cref="BlockFrames"/>.</summary>
    public void Add(ReadOnlySpan<float> sumLeft, ReadOnlySpan<float> sumRight)
    {
        int frames = sumLeft.Length;
        Span<float> busLeft = left.AsSpan(0, frames);
        Span<float> busRight = right.AsSpan(0, frames);
        sumLeft.CopyTo(busLeft);
        sumRight.CopyTo(busRight);
        before.Process(busLeft, busRight);
        int skipped = Math.Min(toSkip, frames);
        toSkip -= skipped;
        busLeft = busLeft[skipped..];
        busRight = busRight[skipped..];
        copy?.Write(busLeft, busRight);
        peaks.Add(busLeft, busRight);
        limiter.Add(busLeft, busRight);
    }

    /// <summary>Runs out what is under way and gives the figures.</summary>
    public HeadroomFigures Finish()
    {
        float[] silence = new float[BlockFrames];
        for (int left = before.LatencyFrames; left > 0; left -= BlockFrames)
        {
            Add(silence.AsSpan(0, Math.Min(left, BlockFrames)), silence.AsSpan(0, Math.Min(left, BlockFrames)));
        }

        peaks.Finish();
        return limiter.Finish() with { SamplePeakDbfs = peaks.SamplePeakDbfs, TruePeakDbtp = peaks.TruePeakDbtp };
    }
}
