using System.Collections.Immutable;

namespace LiveStems.Analysis.Trouble;

/// <summary>A correction to start from.</summary>
/// <param name="Processor">Id of a processor of the catalogue.</param>
/// <param name="Settings">Values as <c>set</c> takes them, by parameter id, in the order they are to be set.</param>
/// <param name="Words">What it does, in one sentence.</param>
public sealed record SuggestedCorrection(string Processor, ImmutableArray<KeyValuePair<string, string>> Settings, string Words);
