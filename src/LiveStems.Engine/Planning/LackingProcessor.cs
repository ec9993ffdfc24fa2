using LiveStems.Albums.Storage;

namespace LiveStems.Engine.Planning;

/// <summary>A processor that a plan does without from its start: it is not here, cannot take its settings, or cannot be prepared.</summary>
/// <param name="Place">The stem, parallel or song bus.</param>
/// <param name="Slot">Id of its slot in the chain there.</param>
/// <param name="Processor">Its id.</param>
/// <param name="Why">Why, to follow its name: "cannot be prepared (no room)".</param>
internal sealed record LackingProcessor(string Place, string Slot, string Processor, string Why)
{
    /// <summary>One line for the listener.</summary>
    public string Words => KeptSettings.Told(Place, Processor, Why);
}
