using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>It writes into the block that it is given and nowhere beside it, nor into the key that it hears.</summary>
internal static class BoundsCheck
{
    public const string Name = "bounds";

    private const int Block = 256;
    private const int Blocks = 200;

    // What runs on by a few blocks stays within it, and spoils nothing else.
    private const int Margin = 4 * Block;
    private const float Untouched = 12345.678f;

    public static VettingFinding? Bounds(Func<Processor> make, VettingSituation situation)
    {
        VettingRun run = new(make, Block, situation);
        (float[] left, float[] right) = VettingRun.Noise(Block * Blocks, 6);
        float[] key = VettingRun.Key(Block * Blocks);
        float[][] lanes = [Lane(), Lane(), Lane()];
        for (int block = 0; block < Blocks; block++)
        {
            Inside(left, block).CopyTo(lanes[0].AsSpan(Margin));
            Inside(right, block).CopyTo(lanes[1].AsSpan(Margin));
            Inside(key, block).CopyTo(lanes[2].AsSpan(Margin));
            try
            {
                run.Process(lanes[0].AsSpan(Margin, Block), lanes[1].AsSpan(Margin, Block), lanes[2].AsSpan(Margin, Block));
            }
            catch (Exception)
            {
                // That is found, and named, where its sound is tried.
                return null;
            }

            if (!Array.TrueForAll(lanes, IsIntact))
            {
                return new VettingFinding(Name, true, $"writes outside the block it is given{situation.Words}");
            }

            if (!lanes[2].AsSpan(Margin, Block).SequenceEqual(Inside(key, block)))
            {
                return new VettingFinding(Name, true, $"writes into the key that it hears{situation.Words}");
            }
        }

        return null;
    }

    private static ReadOnlySpan<float> Inside(float[] sound, int block) => sound.AsSpan(block * Block, Block);

    private static float[] Lane()
    {
        float[] lane = new float[Margin + Block + Margin];
        Array.Fill(lane, Untouched);
        return lane;
    }

    private static bool IsIntact(float[] lane) =>
        lane.AsSpan(0, Margin).IndexOfAnyExcept(Untouched) < 0 && lane.AsSpan(Margin + Block).IndexOfAnyExcept(Untouched) < 0;
}
