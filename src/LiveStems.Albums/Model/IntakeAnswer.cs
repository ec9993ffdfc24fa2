namespace LiveStems.Albums.Model;

/// <summary>What the client or the mix engineer said to a finding of the intake check.</summary>
/// <param name="Stem">Name of the stem it is about; null for the song as a whole.</param>
/// <param name="Finding">What was found, one word: "dcOffset", "clipping", "delay".</param>
/// <param name="Text">The answer.</param>
public sealed record IntakeAnswer(string? Stem, string Finding, string Text)
{
    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;

    /// <summary>The answer in one line, with what it is about.</summary>
    public string Said => $"{(Stem is null ? string.Empty : $"{Stem}, ")}{Finding}: “{Text.ReplaceLineEndings(" ")}”";
}
