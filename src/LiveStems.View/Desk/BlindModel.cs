using LiveStems.Engine.Comparing;

namespace LiveStems.View.Desk;

/// <summary>
/// The blind test of a comparison: in every round a first and a second hide "in" and "out"; the listener goes to and fro and
/// says which is "out", or that they sound the same. What comes out is kept among the notes of the song.
/// </summary>
public sealed class BlindModel
{
    private readonly AlbumDesk desk;
    private readonly CompareModel compare;
    private BlindTest? test;

    internal BlindModel(AlbumDesk desk, CompareModel compare)
    {
        this.desk = desk;
        this.compare = compare;
    }

    /// <summary>True while a test is under way: sides must not be shown.</summary>
    public bool IsRunning => test is not null;

    /// <summary>The round under way, from 1.</summary>
    public int Round => (test?.Answered ?? 0) + 1;

    /// <summary>Rounds of the test.</summary>
    public int Rounds => test?.Rounds ?? 0;

    /// <summary>Which of the two is heard; null for neither.</summary>
    public bool? HearsFirst { get; private set; }

    /// <summary>What the last test came to; null before there was one.</summary>
    public BlindResult? Result { get; private set; }

    /// <summary>Starts a test of the comparison; both sides are equally loud from then on. Null, or why it cannot be.</summary>
    public string? Start(int rounds)
    {
        if (rounds is < 1 or > BlindTest.MostRounds)
        {
            return desk.Refuse($"a blind test has 1 to {BlindTest.MostRounds} rounds");
        }

        if (desk.AreChainsOut)
        {
            return desk.Refuse("all chains are out at present: take them in again first, so that the test is about the song as it is");
        }

        if (!compare.IsOn && compare.Choose(compare.Kind) is { } fault)
        {
            return fault;
        }

        if (!compare.IsReady || !compare.Fair.IsMeasured)
        {
            return desk.Refuse("play some seconds first, so that both sides can be made equally loud");
        }

        test = new BlindTest(rounds);
        Result = null;
        desk.Player.Comparing.IsFair = true;
        desk.Player.Comparing.IsFairLocked = true;
        Silence();
        return null;
    }

    /// <summary>Hears the first of the two (true) or the second.</summary>
    public void Hear(bool first)
    {
        if (test is not null)
        {
            HearsFirst = first;
            desk.Player.Comparing.Hear(test.SideOf(first));
        }
    }

    /// <summary>Answers the round. After the last one the result stands in <see cref="Result"/> and among the song's notes.</summary>
    public void Answer(BlindAnswer answer)
    {
        if (test is null || !compare.IsOn)
        {
            return;
        }

        test.Answer(answer);
        Silence();
        if (test.Result is { } result)
        {
            Result = result;
            End();
            _ = desk.Notes.AddToSong(null, $"blind test, {compare.Words}: {result.Words}");
        }
    }

    /// <summary>Breaks the test off.</summary>
    public void Stop()
    {
        if (test is not null)
        {
            End();
        }
    }

    private void Silence()
    {
        HearsFirst = null;
        desk.Player.Comparing.Hear(CompareSide.Silence);
    }

    private void End()
    {
        test = null;
        HearsFirst = null;
        desk.Player.Comparing.IsFairLocked = false;
        desk.Player.Comparing.Hear(CompareSide.Out);
    }
}
