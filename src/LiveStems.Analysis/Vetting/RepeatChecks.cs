using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>The output depends on the input, the settings and nothing else: or a render is not the same twice.</summary>
internal static class RepeatChecks
{
    // More than one interval in which the contract's base class flushes tiny state (4096 frames), and no multiple of it.
    private const int Frames = 12_000;
    private const int Longest = 8192;

    private static readonly int[] Lengths = [1, 7, 32, 64, 511];

    public static VettingFinding? Blocks(Func<Processor> make, VettingSituation situation) =>
        Blocks(make, situation, Longest, situation.Words, () => null);

    /// <summary>The same while its values move.</summary>
    public static VettingFinding? MovingBlocks(Func<Processor> make, ProcessorDescription kind, VettingSituation situation) =>
        Blocks(make, situation, VettingMoves.Frames, situation.Words + " while its values move", () => new VettingMoves(kind));

    public static VettingFinding? Reset(Func<Processor> make, VettingSituation situation)
    {
        (float[] left, float[] right) = VettingRun.Noise(Frames, 2);
        VettingRun run = new(make, Longest, situation);
        (float[], float[]) first = run.Run(left, right, 300);
        run.Processor.Reset();
        return VettingRun.AreSame(first, run.Run(left, right, 300))
            ? null
            : new VettingFinding("reset", false, $"does not start as if from silence after a reset{situation.Words}: what sounded before a jump is heard after it");
    }

    private static VettingFinding? Blocks(Func<Processor> make, VettingSituation situation, int longest, string words, Func<VettingMoves?> moves)
    {
        (float[] left, float[] right) = VettingRun.Noise(Frames, 1);
        (float[], float[]) whole = new VettingRun(make, Longest, situation).Run(left, right, longest, moves: moves());
        foreach (int block in Lengths)
        {
            if (!VettingRun.AreSame(whole, new VettingRun(make, Longest, situation).Run(left, right, block, moves: moves())))
            {
                return new VettingFinding("blocks", false, $"sounds different in blocks of {block} frames and of {longest}{words}: a render depends on the device's settings");
            }
        }

        return null;
    }
}
