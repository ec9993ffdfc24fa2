using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>Which stems are soloed in each song: a matter of listening, not of the album, so it is neither saved nor undone.</summary>
public sealed class SoloState
{
    private readonly Dictionary<int, HashSet<string>> songs = [];

    /// <summary>True when any stem of a song is soloed.</summary>
    public bool Any(int song) => songs.TryGetValue(song, out HashSet<string>? names) && names.Count > 0;

    /// <summary>True when a stem is soloed.</summary>
    public bool Contains(int song, string stem) => songs.TryGetValue(song, out HashSet<string>? names) && names.Contains(stem);

    internal void Toggle(int song, string stem, bool alone)
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

    internal void Clear(int song) => Names(song).Clear();

    internal Song Apply(int index, Song song) => song with
    {
        Stems = [.. song.Stems.Select(stem => stem.Placement.Soloed == Contains(index, stem.Name)
            ? stem
            : stem with { Placement = stem.Placement with { Soloed = !stem.Placement.Soloed } })],
    };

    private HashSet<string> Names(int song)
    {
        if (!songs.TryGetValue(song, out HashSet<string>? names))
        {
            songs[song] = names = new HashSet<string>(StringComparer.Ordinal);
        }

        return names;
    }

    /// <summary>Takes over what the album says is soloed.</summary>
    internal void TakeFrom(Album album)
    {
        for (int song = 0; song < album.Songs.Length; song++)
        {
            foreach (Stem stem in album.Songs[song].Stems.Where(stem => stem.Placement.Soloed))
            {
                Toggle(song, stem.Name, alone: false);
            }
        }
    }
}
