using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.View.Desk;

/// <summary>
/// Whether what was measured of a song, or a part of one, still holds: whether it sounds as it did then. Names, notes and
/// reasons do not count, nor how the song stands on the album.
/// </summary>
internal static class SoundAlike
{
    /// <summary>True when two states of a song give the same master.</summary>
    public static bool Songs(Song one, Song other) =>
        ReferenceEquals(one, other) || (Chains(one.Bus, other.Bus) && AtTheBus(one, other));

    /// <summary>True when the same reaches the song bus: every stem with its corrections and parallels.</summary>
    public static bool AtTheBus(Song one, Song other) => All(one, other, Stems);

    /// <summary>True when stem by stem the same was delivered, and stands at the same level, side and time.</summary>
    public static bool AsDelivered(Song one, Song other) => All(one, other, AreSameFiles);

    /// <summary>True when two states of a stem sound alike with their corrections and parallels.</summary>
    public static bool Stems(Stem one, Stem other) =>
        ReferenceEquals(one, other) || (AreSameFiles(one, other) && Chains(one.Chain, other.Chain) && Same(one.Parallels, other.Parallels, Paths));

    private static bool All(Song one, Song other, Func<Stem, Stem, bool> alike) =>
        ReferenceEquals(one, other) || (one.SampleRate == other.SampleRate && Same(one.Stems, other.Stems, alike));

    private static bool AreSameFiles(Stem one, Stem other) =>
        one.File == other.File && one.Sha256 == other.Sha256 && one.Placement == other.Placement;

    private static bool Paths(Parallel one, Parallel other) =>
        one with { Name = other.Name, Chain = other.Chain } == other && Chains(one.Chain, other.Chain);

    private static bool Chains(Chain one, Chain other) =>
        ReferenceEquals(one, other) || (one.Bypassed == other.Bypassed && Same(one.Slots, other.Slots, Slots));

    private static bool Slots(ChainSlot one, ChainSlot other) =>
        one with { Parameters = other.Parameters, Reason = other.Reason } == other && one.Parameters.SequenceEqual(other.Parameters);

    private static bool Same<T>(IReadOnlyList<T> some, IReadOnlyList<T> others, Func<T, T, bool> alike)
    {
        if (some.Count != others.Count)
        {
            return false;
        }

        for (int i = 0; i < some.Count; i++)
        {
            if (!alike(some[i], others[i]))
            {
                return false;
            }
        }

        return true;
    }
}
