using LiveStems.Albums.History;
using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>
/// Which stems are soloed in each song: a matter of listening, not of the album, so it is neither saved nor undone. It goes
/// with songs and stems wherever they are moved and whatever they are called, and waits for those that were taken away.
/// </summary>
public sealed class SoloState
{
    private Dictionary<string, HashSet<string>> songs = new(StringComparer.Ordinal);

    /// <summary>True when any stem of a song is soloed.</summary>
    public bool Any(Song song) => songs.TryGetValue(song.Title, out HashSet<string>? names) && song.Stems.Any(stem => names.Contains(stem.Name));

    /// <summary>True when a stem is soloed.</summary>
    public bool Contains(Song song, string stem) => songs.TryGetValue(song.Title, out HashSet<string>? names) && names.Contains(stem);

    internal void Toggle(Song song, string stem, bool alone)
    {
        HashSet<string> names = Names(song);
        bool wasIn = names.Contains(stem);
        if (alone)
        {
            bool wasAlone = wasIn && names.Count == 1;
            names.Clear();
            wasIn = wasAlone;
        }

        _ = wasIn ? names.Remove(stem) : names.Add(stem);
    }

    internal void Clear(Song song) => Names(song).Clear();

    internal Song Apply(Song song) => song with
    {
        Stems = [.. song.Stems.Select(stem => stem.Placement.Soloed == Contains(song, stem.Name)
            ? stem
            : stem with { Placement = stem.Placement with { Soloed = !stem.Placement.Soloed } })],
    };

    /// <summary>The album is another.</summary>
    /// <param name="before">The album as it was.</param>
    /// <param name="after">The album as it is.</param>
    /// <param name="places">For every song of before its index in after; null where all stand where they stood.</param>
    internal void Follow(Album before, Album after, int?[]? places)
    {
        if (songs.Count == 0 || ReferenceEquals(before, after))
        {
            return;
        }

        Dictionary<string, HashSet<string>> now = new(StringComparer.Ordinal);
        for (int i = 0; i < before.Songs.Length; i++)
        {
            Song was = before.Songs[i];
            if ((places is null ? i : places[i]) is { } place && songs.Remove(was.Title, out HashSet<string>? names))
            {
                Song song = after.Songs[place];
                now[song.Title] = ReferenceEquals(was, song) ? names : [.. names.Select(name => SongPlaces.StemAfter(was, song, name) ?? name)];
            }
        }

        // Of songs that are gone it stays, in case they come back.
        foreach ((string title, HashSet<string> names) in songs)
        {
            now.TryAdd(title, names);
        }

        songs = now;
    }

    /// <summary>Takes over what the album says is soloed.</summary>
    internal void TakeFrom(Album album)
    {
        foreach (Song song in album.Songs)
        {
            foreach (Stem stem in song.Stems.Where(stem => stem.Placement.Soloed))
            {
                Toggle(song, stem.Name, alone: false);
            }
        }
    }

    private HashSet<string> Names(Song song)
    {
        if (!songs.TryGetValue(song.Title, out HashSet<string>? names))
        {
            songs[song.Title] = names = new HashSet<string>(StringComparer.Ordinal);
        }

        return names;
    }
}
