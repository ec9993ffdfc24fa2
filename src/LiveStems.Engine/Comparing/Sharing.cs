using System.Collections.Immutable;
using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Comparing;

/// <summary>How much of one song's sound another song can use: what is alike is computed once for both.</summary>
/// <param name="Stems">For every stem of the first song, what it has in common with one of the second.</param>
/// <param name="HasSameMix">True when all stems, gains and parallels are alike, so that the sum is.</param>
/// <param name="BusSlots">Processors at the start of both song chains that are alike; 0 without <paramref name="HasSameMix"/>.</param>
/// <param name="IsEverything">True when both songs sound the same.</param>
internal sealed record Sharing(ImmutableArray<StemSharing> Stems, bool HasSameMix, int BusSlots, bool IsEverything)
{
    /// <summary>True when all keys that processors listen to are the same sound in both songs.</summary>
    public bool HasSameKeys { get; private init; }

    /// <summary>What a first song has in common with a second.</summary>
    public static Sharing Between(Song first, Song second)
    {
        bool keysAreAlike = KeysAreAlike(first, second);
        ImmutableArray<StemSharing> stems = [.. first.Stems.Select(stem => StemSharing.Between(stem, second, keysAreAlike))];
        bool hasSameMix = first.Stems.Length == second.Stems.Length
            && stems.Select((sharing, index) => sharing.IsWhole && sharing.Index == index && HasSameGains(first.Stems[index], second.Stems[index])).All(same => same);
        int busSlots = hasSameMix ? AlikeSlots.AtStart(first.Bus, second.Bus, keysAreAlike) : 0;
        bool isEverything = hasSameMix && busSlots == first.Bus.Slots.Length && busSlots == second.Bus.Slots.Length;
        return new Sharing(stems, hasSameMix, busSlots, isEverything) { HasSameKeys = keysAreAlike };
    }

    /// <inheritdoc/>
    public bool Equals(Sharing? other) =>
        other is not null && HasSameMix == other.HasSameMix && BusSlots == other.BusSlots && Stems.SequenceEqual(other.Stems);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Stems.Length, HasSameMix, BusSlots);

    private static bool HasSameGains(Stem first, Stem second) =>
        first.IsDryOut == second.IsDryOut
        && first.Placement.GainDb == second.Placement.GainDb
        && first.Placement.Pan == second.Placement.Pan
        && first.Placement.Muted == second.Placement.Muted
        && first.Placement.Soloed == second.Placement.Soloed
        && first.Parallels.Length == second.Parallels.Length
        && first.Parallels.Zip(second.Parallels).All(pair => pair.First.Muted == pair.Second.Muted && pair.First.BlendDb == pair.Second.BlendDb);

    // A key is the stem as delivered and placed.
    private static bool KeysAreAlike(Song first, Song second) =>
        KeyStems(first).Concat(KeyStems(second)).Distinct().All(name =>
            first.Stems.FirstOrDefault(stem => stem.Name == name) is { } one
            && second.Stems.FirstOrDefault(stem => stem.Name == name) is { } other
            && StemSharing.HasSameInput(one, other));

    private static IEnumerable<string> KeyStems(Song song) => song.Stems
        .SelectMany(stem => stem.Parallels.Select(parallel => parallel.Chain).Append(stem.Chain))
        .Append(song.Bus)
        .SelectMany(chain => chain.Slots)
        .Select(slot => slot.KeyStem)
        .OfType<string>();
}

/// <summary>What a stem has in common with one of another song.</summary>
/// <param name="Index">Index of the other song's stem that plays the same file in the same way, or −1.</param>
/// <param name="IsWhole">True when chain and parallels are alike too; their gains may differ.</param>
/// <param name="Slots">Processors at the start of both chains that are alike.</param>
internal readonly record struct StemSharing(int Index, bool IsWhole, int Slots)
{
    public static StemSharing Between(Stem stem, Song song, bool keysAreAlike)
    {
        int index = -1;
        for (int i = 0; i < song.Stems.Length && index < 0; i++)
        {
            index = HasSameInput(stem, song.Stems[i]) ? i : -1;
        }

        if (index < 0)
        {
            return new StemSharing(-1, false, 0);
        }

        Stem other = song.Stems[index];
        int slots = AlikeSlots.AtStart(stem.Chain, other.Chain, keysAreAlike);
        bool isWhole = slots == stem.Chain.Slots.Length
            && slots == other.Chain.Slots.Length
            && stem.Parallels.Length == other.Parallels.Length
            && stem.Parallels.Zip(other.Parallels).All(pair => AreAlike(pair.First, pair.Second, keysAreAlike));
        return new StemSharing(index, isWhole, slots);
    }

    public static bool HasSameInput(Stem one, Stem other) =>
        one.File == other.File && one.Placement.DelayFrames == other.Placement.DelayFrames && one.Placement.Polarity == other.Placement.Polarity;

    /// <summary>Index of a stem's parallel that sounds like one of another song's stem with the same input, or −1.</summary>
    /// <param name="parallel">The parallel.</param>
    /// <param name="other">The stem that may have one alike.</param>
    /// <param name="chainsAreAlike">True when the chains of both stems are wholly alike.</param>
    /// <param name="keysAreAlike">True when keys are.</param>
    public static int TwinOf(Parallel parallel, Stem other, bool chainsAreAlike, bool keysAreAlike)
    {
        int twin = 0;
        while (twin < other.Parallels.Length && !AreAlike(parallel, other.Parallels[twin], keysAreAlike))
        {
            twin++;
        }

        return twin < other.Parallels.Length && (chainsAreAlike || !parallel.AfterChain) ? twin : -1;
    }

    private static bool AreAlike(Parallel one, Parallel other, bool keysAreAlike) =>
        one.AfterChain == other.AfterChain
        && one.AlignSamples == other.AlignSamples
        && one.IsEqualiserLinked == other.IsEqualiserLinked
        && AlikeSlots.AtStart(one.Chain, other.Chain, keysAreAlike) is { } slots
        && slots == one.Chain.Slots.Length
        && slots == other.Chain.Slots.Length;
}

/// <summary>Processors of two chains that do the same.</summary>
internal static class AlikeSlots
{
    /// <summary>How many at the start of both chains.</summary>
    public static int AtStart(Chain first, Chain second, bool keysAreAlike)
    {
        int slots = 0;
        while (slots < first.Slots.Length && slots < second.Slots.Length
            && AreAlike(first, first.Slots[slots], second, second.Slots[slots], keysAreAlike))
        {
            slots++;
        }

        return slots;
    }

    private static bool AreAlike(Chain firstChain, ChainSlot first, Chain secondChain, ChainSlot second, bool keysAreAlike) =>
        first.Id == second.Id
        && first.Processor == second.Processor
        && Wet(firstChain, first) == Wet(secondChain, second)
        && first.Scope == second.Scope
        && first.KeyStem == second.KeyStem
        && (first.KeyStem is null || keysAreAlike)
        && first.RawParameters == second.RawParameters
        && (ReferenceEquals(first.Parameters, second.Parameters) || first.Parameters.SequenceEqual(second.Parameters));

    private static double Wet(Chain chain, ChainSlot slot) => chain.Bypassed || slot.Bypassed ? 0 : slot.MixPercent;
}
