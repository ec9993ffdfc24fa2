namespace LiveStems.Analysis.Delivery;

/// <summary>The form of a master file.</summary>
/// <param name="BitsPerSample">16, 24 or 32 bits of whole numbers; 32 for float.</param>
/// <param name="IsFloat">True for 32-bit float.</param>
/// <param name="SampleRate">Rate in Hz, or null for the song's own.</param>
public sealed record MasterFormat(int BitsPerSample, bool IsFloat, int? SampleRate)
{
    /// <summary>24 bits at the song's own rate.</summary>
    public static MasterFormat Native { get; } = new(24, false, null);
}
