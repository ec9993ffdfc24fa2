using LiveStems.Dsp.Simd;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>Processors side by side give the same bits as each alone.</summary>
public class GroupNet
{
    private const int Frames = 9_000;

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void SideBySideIsTheSameAsAlone(string id)
    {
        foreach ((int count, int block) in new[] { (2, 1), (3, 7), (5, 64), (8, 513), (10, 4096) })
        {
            Check(id, count, block, mover: -1);
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void MemberThatMovesDoesNotDisturbItsNeighbours(string id) => Check(id, 6, 300, mover: 2);

    [Theory]
    [MemberData(nameof(Ids))]
    public void MembersOfLikeSettingsGiveTheSameBits(string id) => Check(id, 5, 300, mover: -1, areLike: true);

    [Theory]
    [MemberData(nameof(Ids))]
    public void CatalogueDescribesWhatItMakes(string id) =>
        Assert.Same(BuiltInProcessors.Catalogue.Find(id), BuiltInProcessors.Catalogue.Create(id)!.Description);

    private static void Check(string id, int count, int block, int mover, bool areLike = false)
    {
        int[] moves = [600, 3000];
        (float[] Left, float[] Right)[] alone = new (float[], float[])[count];
        ProcessorUnderTest[] members = new ProcessorUnderTest[count];
        PlanarStereo[] sounds = new PlanarStereo[count];
        for (int i = 0; i < count; i++)
        {
            (float[] left, float[] right) = Signal(i);
            ProcessorUnderTest single = new(id, Seed(areLike ? 2 : i));
            alone[i] = (i == mover ? single.WithMoves(i, moves) : single).Run(left, right, block);
            members[i] = new ProcessorUnderTest(id, Seed(areLike ? 2 : i));
            sounds[i] = new PlanarStereo([.. left], [.. right]);
        }

        if (members[0].Processor.GroupOf([.. members.Select(member => member.Processor)]) is not { } group)
        {
            return;
        }

        ProcessorUnderTest? moving = mover >= 0 ? members[mover].WithMoves(mover, moves) : null;
        for (int done = 0; done < Frames;)
        {
            int frames = Math.Min(block, Frames - done);
            frames = moves.Where(move => move > done).Select(move => move - done).Append(frames).Min();
            moving?.MoveAt(done);
            PlanarStereo[] parts = [.. sounds.Select(sound => new PlanarStereo(sound.Left[done..(done + frames)], sound.Right[done..(done + frames)]))];
            group.Process(parts, frames);
            for (int i = 0; i < count; i++)
            {
                parts[i].Left.CopyTo(sounds[i].Left, done);
                parts[i].Right.CopyTo(sounds[i].Right, done);
            }

            done += frames;
        }

        for (int i = 0; i < count; i++)
        {
            SameBits.Assert(WithoutMinusZero(alone[i].Left), WithoutMinusZero(sounds[i].Left), $"{id}, {i} of {count}, blocks of {block}, left");
            SameBits.Assert(WithoutMinusZero(alone[i].Right), WithoutMinusZero(sounds[i].Right), $"{id}, {i} of {count}, blocks of {block}, right");
        }
    }

    // Some with the settings of a new processor, some with others.
    private static int Seed(int member) => member % 3 - 1 + (member > 5 ? 40 : 0);

    private static (float[] Left, float[] Right) Signal(int member) => NetSignals.Make(
        NetSignals.Names[member % NetSignals.Names.Count], Frames);

    // The sign of a zero is lost behind every processor anyway.
    private static float[] WithoutMinusZero(float[] samples) => Array.ConvertAll(samples, sample => sample + 0f);
}
