using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>It writes into the block that it is given and nowhere beside it.</summary>
internal static class BoundsCheck
{
    public const string Name = "bounds";

    private const int Block = 256;
    private const int Blocks = 200;

    // What runs on by a few blocks stays within it, and spoils nothing else.
    private const int Margin = 4 * Block;
    private const float Untouched = 12345.678f;

    public static VettingFinding? Bounds(Func<Processor> make)
    {
        Processor processor = make();
        processor.Prepare(new ProcessingFormat(VettingRun.SampleRate, Block));
        (float[] left, float[] right) = VettingRun.Noise(Block * Blocks, 6);
        float[][] lanes = [new float[Margin + Block + Margin], new float[Margin + Block + Margin]];
        lanes[0].AsSpan().Fill(Untouched);
        lanes[1].AsSpan().Fill(Untouched);
        for (int block = 0; block < Blocks; block++)
        {
            left.AsSpan(block * Block, Block).CopyTo(lanes[0].AsSpan(Margin));
            right.AsSpan(block * Block, Block).CopyTo(lanes[1].AsSpan(Margin));
            try
            {
                processor.Process(new StereoBlock(lanes[0].AsSpan(Margin, Block), lanes[1].AsSpan(Margin, Block)));
            }
            catch (Exception)
            {
                // That is found, and named, where its sound is tried.
                return null;
            }

            if (!Array.TrueForAll(lanes, IsIntact))
            {
                return new VettingFinding(Name, true, "writes outside the block it is given");
            }
        }

        return null;
    }

    private static bool IsIntact(float[] lane) =>
        lane.AsSpan(0, Margin).IndexOfAnyExcept(Untouched) < 0 && lane.AsSpan(Margin + Block).IndexOfAnyExcept(Untouched) < 0;
}
