using LiveStems.Albums.Model;

namespace LiveStems.Engine.Comparing;

/// <summary>What is compared, and where it is heard.</summary>
/// <param name="Scope">What is compared.</param>
/// <param name="IsInSong">True to hear it inside the whole song, false to hear it alone.</param>
public sealed record Comparison(CompareScope Scope, bool IsInSong)
{
    /// <summary>"Bass, compressor, alone".</summary>
    public string Words => Scope.HasHearing ? $"{Scope.Words}, {(IsInSong ? "in the song" : "alone")}" : Scope.Words;

    /// <summary>Both sides, made from the song as it is now.</summary>
    /// <exception cref="ComparisonException">There is nothing to compare in that song.</exception>
    public ComparedSongs Of(Song song) => Scope.Of(song, IsInSong);
}

/// <summary>What is heard of a comparison.</summary>
public enum CompareSide
{
    /// <summary>Without what is compared: before it, or the other version, or the file.</summary>
    In,

    /// <summary>With what is compared: the song as it is.</summary>
    Out,

    /// <summary>Out minus in, aligned: what it takes away or adds.</summary>
    Difference,

    /// <summary>Neither.</summary>
    Silence,
}
