using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>The output depends on the input, the settings and nothing else.</summary>
public class DeterminismNet
{
    private const int Frames = 12_000;

    // Off and on the grid of 32 frames, closer together than a glide, and more than one TinyState interval apart.
    private static readonly int[] MoveFrames = [1000, 1200, 1216, 5000, 9984];

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void BlocksDoNotMatter(string id)
    {
        for (int seed = -1; seed < 2; seed++)
        {
            (float[] left, float[] right) = NetSignals.Make(seed == 0 ? "bursts" : "noise", Frames);
            (float[] wholeLeft, float[] wholeRight) = new ProcessorUnderTest(id, seed).WithMoves(seed, MoveFrames).Run(left, right, 8192);
            foreach (int block in new[] { 1, 7, 32, 64, 511 })
            {
                (float[] partLeft, float[] partRight) = new ProcessorUnderTest(id, seed).WithMoves(seed, MoveFrames).Run(left, right, block);
                SameBits.Assert(wholeLeft, partLeft, $"{id}, seed {seed}, blocks of {block}, left");
                SameBits.Assert(wholeRight, partRight, $"{id}, seed {seed}, blocks of {block}, right");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void PreparedBlockLengthDoesNotMatter(string id)
    {
        (float[] left, float[] right) = NetSignals.Make("noise", Frames);
        (float[] first, _) = new ProcessorUnderTest(id, 3, maximumFrames: 64).Run(left, right, 64);
        (float[] second, _) = new ProcessorUnderTest(id, 3, maximumFrames: 8192).Run(left, right, 8192);
        SameBits.Assert(first, second, id);
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void ResetIsSilenceBefore(string id)
    {
        for (int seed = -1; seed < 2; seed++)
        {
            (float[] left, float[] right) = NetSignals.Make("noise", Frames);
            (float[] loudLeft, float[] loudRight) = NetSignals.Make("square", 5003);
            (float[] freshLeft, float[] freshRight) = new ProcessorUnderTest(id, seed).Run(left, right, 300);
            ProcessorUnderTest used = new(id, seed);
            used.Run(loudLeft, loudRight, 200);
            used.Processor.Reset();
            (float[] usedLeft, float[] usedRight) = used.Run(left, right, 300);
            SameBits.Assert(freshLeft, usedLeft, $"{id}, seed {seed}, left");
            SameBits.Assert(freshRight, usedRight, $"{id}, seed {seed}, right");
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void ResetArrivesAtEveryTarget(string id)
    {
        (float[] left, float[] right) = NetSignals.Make("noise", Frames);
        ProcessorUnderTest moved = new ProcessorUnderTest(id, 5).WithMoves(6, 500);
        moved.Run(left[..600], right[..600], 600);
        moved.Processor.Reset();
        (float[] movedLeft, _) = moved.Run(left[1000..], right[1000..], 300);

        ProcessorUnderTest plain = new(id, 5);
        for (int i = 0; i < plain.Processor.Description.Parameters.Count; i++)
        {
            plain.Processor.SetParameter(i, moved.Processor.GetParameter(i));
        }

        plain.Processor.Reset();
        (float[] plainLeft, _) = plain.Run(left[1000..], right[1000..], 300);
        SameBits.Assert(plainLeft, movedLeft, id);
    }
}
