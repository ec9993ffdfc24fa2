using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Planning;

/// <summary>
/// Puts the equalisers of a stem in front of the parallels that are linked to them, so that a path fed before the chain
/// has the stem's own tone.
/// </summary>
public static class LinkedEqualisers
{
    private const string Equaliser = "equaliser";

    /// <summary>The song with every link resolved; the same song when there is none.</summary>
    public static Song Resolve(Song song) => song.Stems.Any(stem => stem.Parallels.Any(IsLinked))
        ? song with { Stems = [.. song.Stems.Select(Resolve)] }
        : song;

    /// <summary>The equalisers of a stem's chain as they sound there, under ids of their own.</summary>
    public static IEnumerable<ChainSlot> Of(Stem stem) => stem.Chain.Slots
        .Where(slot => slot.Processor == Equaliser)
        .Select(slot => slot with { Id = "stem-" + slot.Id, Bypassed = slot.Bypassed || stem.Chain.Bypassed });

    private static Stem Resolve(Stem stem) => stem with
    {
        Parallels = [.. stem.Parallels.Select(parallel => IsLinked(parallel)
            ? parallel with
            {
                IsEqualiserLinked = false,
                Chain = parallel.Chain with
                {
                    Bypassed = false,
                    Slots = [.. Of(stem), .. parallel.Chain.Slots.Select(slot => slot with { Bypassed = slot.Bypassed || parallel.Chain.Bypassed })],
                },
            }
            : parallel)],
    };

    // After the chain the sound has the equalisers already.
    private static bool IsLinked(Parallel parallel) => parallel.IsEqualiserLinked && !parallel.AfterChain;
}
