using LiveStems.Albums.Model;
using LiveStems.Dsp.Dynamics;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Analysis.Probe;

/// <summary>
/// A chain as it stands in the album, or a stem's chain together with one of its parallels, summed as on the song bus.
/// Processors that listen to another stem hear silence there.
/// </summary>
public sealed class ProbedChain : IProbed, IDisposable
{
    private readonly Chain chain;
    private readonly Parallel? parallel;
    private readonly ProcessorCatalogue catalogue;
    private ChainRunner? main;
    private ChainRunner? under;
    private LookAheadDelay[] mainWait = [];
    private LookAheadDelay[] underWait = [];
    private float[] underLeft = [];
    private float[] underRight = [];
    private float blend;

    /// <summary>A chain, with a parallel beside it if one is given.</summary>
    /// <param name="chain">The chain of a stem, a parallel or the song bus.</param>
    /// <param name="parallel">A parallel of the same stem, or null.</param>
    /// <param name="catalogue">Where processors come from.</param>
    public ProbedChain(Chain chain, Parallel? parallel, ProcessorCatalogue catalogue)
    {
        this.chain = chain;
        this.parallel = parallel;
        this.catalogue = catalogue;
    }

    /// <inheritdoc/>
    public int LatencyFrames { get; private set; }

    /// <summary>Processors that the sound passed by, each with the reason, after <see cref="Prepare"/>.</summary>
    public IEnumerable<string> PassedBy() => main!.PassedBy().Concat(under?.PassedBy() ?? []);

    /// <inheritdoc/>
    public void Prepare(ProcessingFormat format)
    {
        Dispose();
        main = new ChainRunner(chain, catalogue, format);
        LatencyFrames = main.LatencyFrames;
        if (parallel is null)
        {
            return;
        }

        under = new ChainRunner(parallel.Chain, catalogue, format);
        int underLatency = under.LatencyFrames + (parallel.AfterChain ? main.LatencyFrames : 0);
        LatencyFrames = Math.Max(main.LatencyFrames, underLatency);
        mainWait = Wait(LatencyFrames - main.LatencyFrames);
        underWait = Wait(LatencyFrames - underLatency);
        underLeft = new float[format.MaximumFrames];
        underRight = new float[format.MaximumFrames];
        blend = parallel.Muted ? 0 : (float)Dsp.Decibels.ToAmplitude(parallel.BlendDb);
    }

    /// <inheritdoc/>
    public void Reset()
    {
        main!.Reset();
        under?.Reset();
        foreach (LookAheadDelay delay in mainWait.Concat(underWait))
        {
            delay.Reset();
        }
    }

    /// <inheritdoc/>
    public void Process(Span<float> left, Span<float> right)
    {
        if (parallel is null)
        {
            main!.Process(left, right);
            return;
        }

        Span<float> pathLeft = underLeft.AsSpan(0, left.Length);
        Span<float> pathRight = underRight.AsSpan(0, right.Length);
        if (parallel.AfterChain)
        {
            main!.Process(left, right);
        }

        left.CopyTo(pathLeft);
        right.CopyTo(pathRight);
        under!.Process(pathLeft, pathRight);
        if (!parallel.AfterChain)
        {
            main!.Process(left, right);
        }

        mainWait[0].Process(left);
        mainWait[1].Process(right);
        underWait[0].Process(pathLeft);
        underWait[1].Process(pathRight);
        for (int i = 0; i < left.Length; i++)
        {
            left[i] += blend * pathLeft[i];
            right[i] += blend * pathRight[i];
        }
    }

    /// <summary>Lets go of what its processors hold outside this process; it can be prepared anew.</summary>
    public void Dispose()
    {
        main?.Dispose();
        under?.Dispose();
        main = under = null;
    }

    private static LookAheadDelay[] Wait(int frames) => [new LookAheadDelay(frames), new LookAheadDelay(frames)];
}
