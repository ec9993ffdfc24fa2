using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Editing;

/// <summary>A processor as it enters a chain.</summary>
internal static class NewSlot
{
    /// <summary>Every parameter at its default, with an id that the chain does not have yet.</summary>
    public static ChainSlot Of(ProcessorDescription description, Chain chain) => new(
        FreeId(IdFrom(description.Id), chain),
        description.Id,
        description.Version,
        Bypassed: false,
        AlbumFields.MixPercent.Spec.Default,
        StereoScope.Stereo,
        KeyStem: null,
        ImmutableSortedDictionary.Create<string, double>(StringComparer.Ordinal),
        Reason: string.Empty);

    // Outside processors may be called anything; the id of a slot stands in addresses.
    private static string IdFrom(string processor) => string.Concat(
        processor.ToLowerInvariant().Select(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) ? letter : '-'));

    private static string FreeId(string wanted, Chain chain)
    {
        HashSet<string> taken = chain.Slots.Select(slot => slot.Id).ToHashSet(StringComparer.Ordinal);
        string id = wanted;
        for (int number = 2; taken.Contains(id); number++)
        {
            id = $"{wanted}-{number}";
        }

        return id;
    }
}
