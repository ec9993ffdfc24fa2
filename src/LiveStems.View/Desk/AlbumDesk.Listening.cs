using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

// What differs between the songs of the album and how they are heard here. None of it is saved, undone or rendered.
public sealed partial class AlbumDesk
{
    /// <summary>True while songs are heard without the chains of their stems and their buses, whatever the album says.</summary>
    public bool AreChainsOut { get; private set; }

    /// <summary>
    /// All chains of stems and song bus out at once, for listening only; or as they are. Null, or why not: a blind test goes
    /// on with what it began with.
    /// </summary>
    public string? ToggleChains()
    {
        if (Compare.Blind.IsRunning)
        {
            return Refuse("a blind test is under way: break it off first");
        }

        AreChainsOut = !AreChainsOut;
        Revision++;
        FollowNext(isAnew: true);
        ShowSong();
        return null;
    }

    private Song AsHeard(Song song)
    {
        Song soloed = Solo.Apply(song);
        return AreChainsOut
            ? soloed with { Stems = [.. soloed.Stems.Select(stem => stem with { Chain = Out(stem.Chain) })], Bus = Out(soloed.Bus) }
            : soloed;
    }

    private static Chain Out(Chain chain) => chain.Bypassed ? chain : chain with { Bypassed = true };
}
