using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>Whether two states of a song sound alike; asked with every picture, worked out once for as long as both are the same.</summary>
/// <param name="alike">How it is worked out.</param>
internal sealed class AlikeOnce(Func<Song, Song, bool> alike)
{
    private Song? one;
    private Song? other;
    private bool isAlike;

    /// <summary>True when they sound alike.</summary>
    public bool Are(Song measured, Song now)
    {
        if (!ReferenceEquals(one, measured) || !ReferenceEquals(other, now))
        {
            (one, other) = (measured, now);
            isAlike = alike(measured, now);
        }

        return isAlike;
    }
}
