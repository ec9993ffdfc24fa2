using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>Where lanes of a song belong once its stems and parallels stand elsewhere.</summary>
internal static class LanePlaces
{
    /// <summary>
    /// The lanes of a song that has been changed since: each goes with its stem, by file and name, and with its parallel, by
    /// name; of what is new there is none yet. The same object where all stand where they stood.
    /// </summary>
    /// <param name="lanes">The lanes as they were computed.</param>
    /// <param name="before">The song that they were computed of.</param>
    /// <param name="now">The song as it is.</param>
    public static LaneSet After(LaneSet lanes, Song before, Song now)
    {
        if (lanes.Lanes.Count == 0)
        {
            return lanes;
        }

        List<Lane> moved = [];
        for (int stem = 0; stem < now.Stems.Length; stem++)
        {
            if (StemBefore(before, now, now.Stems[stem].Name) is { } was)
            {
                Add(moved, lanes, new(was, -1, null), new(stem, -1, null), now.Stems[stem].Name);
                for (int parallel = 0; parallel < now.Stems[stem].Parallels.Length; parallel++)
                {
                    string name = now.Stems[stem].Parallels[parallel].Name;
                    int path = before.Stems[was].Parallels.ToList().FindIndex(each => each.Name == name);
                    if (path >= 0)
                    {
                        Add(moved, lanes, new(was, path, null), new(stem, parallel, null), $"{now.Stems[stem].Name}, {name}");
                    }
                }
            }
        }

        Add(moved, lanes, TapPlace.Bus, TapPlace.Bus, lanes.Of(TapPlace.Bus)?.Name ?? string.Empty);
        return moved.SequenceEqual(lanes.Lanes) ? lanes : lanes with { Lanes = moved };
    }

    private static int? StemBefore(Song before, Song now, string name)
    {
        for (int stem = 0; stem < before.Stems.Length; stem++)
        {
            if (SongPlaces.StemAfter(before, now, before.Stems[stem].Name) == name)
            {
                return stem;
            }
        }

        return null;
    }

    private static void Add(List<Lane> moved, LaneSet lanes, TapPlace from, TapPlace to, string name)
    {
        if (lanes.Of(from) is { } lane)
        {
            moved.Add(lane with { Place = to, Name = name });
        }
    }
}
