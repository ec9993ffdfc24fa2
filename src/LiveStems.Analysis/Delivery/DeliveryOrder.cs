namespace LiveStems.Analysis.Delivery;

/// <summary>What is to be delivered of an album.</summary>
/// <param name="Songs">Places of the songs in the album, from 0.</param>
/// <param name="Formats">Forms of the masters; alternates come in the first.</param>
/// <param name="Alternates">Other versions of every song.</param>
/// <param name="IsLinked">
/// True when alternates get the gain of the main version's bus and limiter, moment by moment, so that versions can be cut
/// together; false when the bus works on each by itself.
/// </param>
/// <param name="HasTreatedStems">True for the treated stems, whose sum is the song bus input.</param>
/// <param name="Date">Date told in the files.</param>
/// <param name="Originator">Who made them, up to 32 characters.</param>
public sealed record DeliveryOrder(
    IReadOnlyList<int> Songs,
    IReadOnlyList<DeliveryFormat> Formats,
    IReadOnlyList<Alternate> Alternates,
    bool IsLinked,
    bool HasTreatedStems,
    DateOnly Date,
    string Originator)
{
    /// <summary>True for the album as one continuous file in the first form, with a cue sheet.</summary>
    public bool HasContinuous { get; init; }

    /// <summary>True when the date was asked for and holds for every file; otherwise songs that were delivered before as they are now keep the date of then.</summary>
    public bool IsDateAsked { get; init; }

    /// <summary>How masters and alternates are called.</summary>
    public NamePattern Names { get; init; } = NamePattern.Usual;

    /// <summary>The order in words that tell it from every other.</summary>
    internal string Signature => string.Join(
        '|',
        string.Join(',', Songs),
        string.Join(',', Formats.Select(format => format.Id)),
        string.Join(',', Alternates.Select(alternate => alternate.Id)),
        IsLinked,
        HasTreatedStems,
        HasContinuous,
        Originator,
        IsDateAsked,
        Names);
}
