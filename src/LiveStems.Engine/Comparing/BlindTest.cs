using System.Security.Cryptography;

namespace LiveStems.Engine.Comparing;

/// <summary>What a listener says at the end of a round.</summary>
public enum BlindAnswer
{
    /// <summary>The first of the two is "out".</summary>
    First,

    /// <summary>The second of the two is "out".</summary>
    Second,

    /// <summary>They sound the same.</summary>
    Same,
}

/// <summary>What a blind test came to.</summary>
/// <param name="Rounds">Rounds that were answered.</param>
/// <param name="Hits">Rounds in which "out" was found.</param>
/// <param name="Same">Rounds answered with "same"; they count neither way.</param>
public sealed record BlindResult(int Rounds, int Hits, int Same)
{
    /// <summary>Rounds in which a side was picked.</summary>
    public int Decided => Rounds - Same;

    /// <summary>Chance, 0 to 1, of so many hits or more by guessing; see <see cref="Binomial.AtLeast"/>.</summary>
    public double Probability => Binomial.AtLeast(Hits, Decided);

    /// <summary>"9 of 10 right (2 more heard as the same); by guessing so many or more: 1.1 %".</summary>
    public string Words
    {
        get
        {
            string same = Same == 0 ? string.Empty : $" ({Same} more heard as the same)";
            return Decided == 0
                ? $"no side picked in {Rounds} rounds, all heard as the same"
                : $"{Hits} of {Decided} right{same}; by guessing so many or more: {Probability * 100:0.0##} %";
        }
    }
}

/// <summary>
/// A blind test of two sides. In every round the listener goes to and fro between a first and a second that hide "in" and
/// "out", and picks the one that is "out", or says that they sound the same. What the sides are is drawn anew for every
/// round by the system's cryptographic generator; nothing is told before the last answer.
/// </summary>
/// <remarks>
/// Between rounds neither side is heard, so that no sound goes on from one round into the next. One thread at a time.
/// </remarks>
public sealed class BlindTest
{
    /// <summary>The most rounds.</summary>
    public const int MostRounds = 100;

    private readonly Func<int, int> draw;
    private bool isFirstOut;
    private int hits;
    private int same;

    /// <summary>Starts a test.</summary>
    /// <param name="rounds">Rounds, 1 to <see cref="MostRounds"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number of rounds is out of its range.</exception>
    public BlindTest(int rounds)
        : this(rounds, RandomNumberGenerator.GetInt32)
    {
    }

    /// <summary>A test whose draws are given: <paramref name="draw"/> returns a number from 0 to below its argument.</summary>
    internal BlindTest(int rounds, Func<int, int> draw)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(rounds, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(rounds, MostRounds);
        Rounds = rounds;
        this.draw = draw;
        Shuffle();
    }

    /// <summary>Rounds to be answered.</summary>
    public int Rounds { get; }

    /// <summary>Rounds answered so far.</summary>
    public int Answered { get; private set; }

    /// <summary>True when every round is answered.</summary>
    public bool IsOver => Answered == Rounds;

    /// <summary>What came out; null before the test is over.</summary>
    public BlindResult? Result => IsOver ? new BlindResult(Rounds, hits, same) : null;

    /// <summary>The side to let be heard for the first or the second of this round.</summary>
    public CompareSide SideOf(bool isFirst) => isFirst == isFirstOut ? CompareSide.Out : CompareSide.In;

    /// <summary>Takes the answer to this round and goes on to the next.</summary>
    /// <exception cref="InvalidOperationException">The test is over.</exception>
    public void Answer(BlindAnswer answer)
    {
        if (IsOver)
        {
            throw new InvalidOperationException("The test is over; a new one starts afresh.");
        }

        same += answer == BlindAnswer.Same ? 1 : 0;
        hits += answer == (isFirstOut ? BlindAnswer.First : BlindAnswer.Second) ? 1 : 0;
        Answered++;
        Shuffle();
    }

    private void Shuffle() => isFirstOut = draw(2) == 0;
}
