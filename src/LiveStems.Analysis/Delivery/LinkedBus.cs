using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Dsp;
using LiveStems.Dsp.Dynamics;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Limiter;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Runs an alternate through the song bus led by the master: bus dynamics listen to the master, and the limiter's gain curve
/// for the master is laid on the alternate, so that one can be cut into the other.
/// </summary>
internal static class LinkedBus
{
    private const int BlockFrames = LimiterProcessor.CurveFrames;

    /// <summary>Runs the bus.</summary>
    /// <param name="song">The song, its limiter last on the bus.</param>
    /// <param name="master">The sum of all stems.</param>
    /// <param name="alternate">The sum of the alternate.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="length">Frames of the alternate: as many as the master has.</param>
    /// <param name="sink">Takes the alternate.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <returns>The processors that were passed by, in words.</returns>
    public static IReadOnlyList<string> Run(
        Song song, SoundSum master, SoundSum alternate, ProcessorCatalogue catalogue, int sampleRate, long length, IRenderSink sink, CancellationToken cancellation)
    {
        Chain before = song.Bus with { Slots = song.Bus.Slots[..^1] };
        using LinkedChainRunner bus = new(before, catalogue, new ProcessingFormat(sampleRate, BlockFrames));
        LimiterProcessor limiter = (LimiterProcessor)SongLimiter.Create(song.Bus.Slots[^1], 0, catalogue);
        limiter.Prepare(new ProcessingFormat(sampleRate, BlockFrames));
        float gain = (float)Decibels.ToAmplitude(limiter.GetParameter(limiter.Description.IndexOf(SongLimiter.GainId)));
        LookAheadDelay waitLeft = new(limiter.LatencyFrames);
        LookAheadDelay waitRight = new(limiter.LatencyFrames);
        float[] reduction = new float[BlockFrames];
        int latency = bus.LatencyFrames + limiter.LatencyFrames;
        AlignedSink aligned = new(sink, latency);
        using (master)
        using (alternate)
        {
            long whole = length + latency;
            for (long done = 0; done < whole; done += BlockFrames)
            {
                cancellation.ThrowIfCancellationRequested();
                int frames = (int)Math.Min(BlockFrames, whole - done);
                master.Read(frames);
                alternate.Read(frames);
                Span<float> left = alternate.Left.AsSpan(0, frames);
                Span<float> right = alternate.Right.AsSpan(0, frames);
                bus.Process(master.Left.AsSpan(0, frames), master.Right.AsSpan(0, frames), left, right);
                limiter.Process(new StereoBlock(master.Left.AsSpan(0, frames), master.Right.AsSpan(0, frames)));
                limiter.CopyReduction(reduction.AsSpan(0, frames));
                waitLeft.Process(left);
                waitRight.Process(right);
                for (int i = 0; i < frames; i++)
                {
                    float factor = gain * (float)Decibels.ToAmplitude(-reduction[i]);
                    left[i] *= factor;
                    right[i] *= factor;
                }

                aligned.Write(left, right);
            }
        }

        return [.. bus.PassedBy()];
    }
}
