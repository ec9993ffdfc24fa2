using LiveStems.Dsp.Dither;
using LiveStems.Dsp.Loudness;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Has the runtime compile what nearly every render needs, on a core that has nothing to do yet: while the album is being
/// loaded. Changes nothing but the time.
/// </summary>
public static class RenderWarmUp
{
    private const int Frames = 256;

    private static readonly string[] SideBySide = ["equaliser", "compressor"];

    private static int isStarted;

    /// <summary>Starts, unless it was started before, and returns at once.</summary>
    public static void Start()
    {
        if (Interlocked.Exchange(ref isStarted, 1) == 0)
        {
            new Thread(Run) { IsBackground = true, Name = "warm-up" }.Start();
        }
    }

    private static void Run()
    {
        float[] left = new float[Frames];
        float[] right = new float[Frames];
        left[0] = right[0] = 1;
        foreach (string id in SideBySide)
        {
            Processor[] pair = [Prepared(id), Prepared(id)];
            pair[0].GroupOf(pair)?.Process([new PlanarStereo(left, right), new PlanarStereo([.. left], [.. right])], Frames);
            pair[0].Process(new StereoBlock(left, right));
        }

        Prepared("limiter").Process(new StereoBlock(left, right));
        new ProgrammeMeter(48_000).Add(left, right);
        new TriangularDither(24, 0).Process(left, right);
    }

    private static Processor Prepared(string id)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        processor.Prepare(new ProcessingFormat(48_000, Frames));
        return processor;
    }
}
