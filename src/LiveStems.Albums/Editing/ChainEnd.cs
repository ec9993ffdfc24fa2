using LiveStems.Albums.Model;

namespace LiveStems.Albums.Editing;

/// <summary>Where in a chain that goes which is added without a place of its own.</summary>
public static class ChainEnd
{
    /// <summary>Id of the processor that holds the ceiling of a song.</summary>
    public const string Limiter = "limiter";

    /// <summary>
    /// The index that the added gets: behind everything, but before the limiter that ends a song bus. What followed that one
    /// could raise peaks above the ceiling again.
    /// </summary>
    /// <param name="chain">The chain as it is.</param>
    /// <param name="isBus">True for a song bus.</param>
    public static int Of(Chain chain, bool isBus) => isBus && EndsInLimiter(chain) ? chain.Slots.Length - 1 : chain.Slots.Length;

    private static bool EndsInLimiter(Chain chain) => !chain.Slots.IsEmpty && chain.Slots[^1].Processor == Limiter;
}
