using System.Collections.Immutable;

namespace LiveStems.Albums.Model;

/// <summary>One processor in a chain with its settings.</summary>
/// <param name="Id">Name unique in the chain, lower case: the processor's id, with "-2", "-3" … for further ones of a kind.</param>
/// <param name="Processor">Id of the processor in the catalogue.</param>
/// <param name="Version">Version of the processor that the settings were made with.</param>
/// <param name="Bypassed">True when the sound passes by, aligned.</param>
/// <param name="MixPercent">Processed share, 0 (dry) to 100 (wet); dry and wet are aligned to the sample.</param>
/// <param name="Scope">The part of the stereo sound that is processed.</param>
/// <param name="KeyStem">Name of the stem its detectors listen to, as delivered and placed; null for its own input.</param>
/// <param name="Parameters">Values that differ from or equal the defaults, by parameter id, in the parameter's unit.</param>
/// <param name="Reason">Why the correction is there, in the engineer's words; empty when not said.</param>
public sealed record ChainSlot(
    string Id,
    string Processor,
    int Version,
    bool Bypassed,
    double MixPercent,
    StereoScope Scope,
    string? KeyStem,
    ImmutableSortedDictionary<string, double> Parameters,
    string Reason)
{
    /// <summary>True when the program proposed the correction and nobody has taken it up yet.</summary>
    public bool Suggested { get; init; }

    /// <summary>True when a processor of others is to run in a process of its own here, wherever else it runs.</summary>
    public bool OwnProcess { get; init; }

    /// <summary>
    /// JSON text of the parameters of a processor that the catalogue does not have, or that does not understand them, kept
    /// as it stood so that saving loses nothing; null when <see cref="Parameters"/> holds them.
    /// </summary>
    public string? RawParameters { get; init; }

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
