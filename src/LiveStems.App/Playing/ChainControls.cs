using LiveStems.Albums.Model;

namespace LiveStems.App.Playing;

/// <summary>What the keys for bypass do.</summary>
internal sealed class ChainControls(PlayControls controls)
{
    // How the chains stood before all of them were bypassed, with the song they belong to.
    private Song? before;

    /// <summary>True when the song chain is passed by.</summary>
    public bool IsSongBypassed => controls.Song.Bus.Bypassed;

    /// <summary>True when every chain of the song is passed by.</summary>
    public bool AreAllBypassed => IsSongBypassed && controls.Song.Stems.All(stem => stem.Chain.Bypassed);

    /// <summary>The chain of the chosen stem in or out.</summary>
    public void ToggleStem() => controls.ChangeStem(stem => stem with { Chain = Bypassed(stem.Chain, !stem.Chain.Bypassed) });

    /// <summary>The song chain in or out.</summary>
    public void ToggleSong() => controls.ChangeSong(song => song with { Bus = Bypassed(song.Bus, !song.Bus.Bypassed) });

    /// <summary>The chains of all stems and that of the song out at once, or as they were before.</summary>
    public void ToggleAll()
    {
        Song song = controls.Song;
        if (!AreAllBypassed)
        {
            before = song;
            controls.ChangeSong(now => With(now, _ => true, isSongBypassed: true));
        }
        else
        {
            Song? then = before?.Title == song.Title ? before : null;
            controls.ChangeSong(now => With(now, stem => Was(then, stem.Name), then?.Bus.Bypassed ?? false));
        }
    }

    /// <summary>A processor of the stem's chain, by its place from 0, in or out.</summary>
    public void ToggleProcessor(int place)
    {
        Stem stem = controls.Stem;
        if (place >= stem.Chain.Slots.Length)
        {
            string count = stem.Chain.Slots.IsEmpty ? "no processors" : stem.Chain.Slots.Length == 1 ? "one processor" : $"{stem.Chain.Slots.Length} processors";
            controls.Tell($"{stem.Name} has {count} in its chain");
            return;
        }

        ChainSlot slot = stem.Chain.Slots[place];
        ChainSlot changed = slot with { Bypassed = !slot.Bypassed };
        controls.ChangeStem(now => now with { Chain = now.Chain with { Slots = now.Chain.Slots.SetItem(place, changed) } });
        controls.Tell($"{stem.Name}: {slot.Id} {(changed.Bypassed ? "out" : "in")}");
    }

    private static Song With(Song song, Func<Stem, bool> isBypassed, bool isSongBypassed) => song with
    {
        Stems = [.. song.Stems.Select(stem => stem with { Chain = Bypassed(stem.Chain, isBypassed(stem)) })],
        Bus = Bypassed(song.Bus, isSongBypassed),
    };

    private static Chain Bypassed(Chain chain, bool isBypassed) => chain with { Bypassed = isBypassed };

    private static bool Was(Song? then, string stem) => then?.Stems.FirstOrDefault(other => other.Name == stem)?.Chain.Bypassed ?? false;
}
