using LiveStems.App.Demo.Songs;

namespace LiveStems.App.Demo;

/// <summary>
/// The demo album: an invented trio from an invented harbour town, played by synthesis alone.
/// </summary>
internal static class DemoAlbum
{
    public const string Title = "Slack Water Letters";

    public const string Artist = "The Kelp Ledger";

    public const string Story =
        "The Kelp Ledger are a trio from the harbour town of Vellenskar: Ilva Tarnquist sings and plays guitar, Oswin "
        + "Brack plays bass and keyboards, Jorun Pellimar plays drums and percussion. Town, people and songs are "
        + "invented; every sound was computed for this album.";

    public static IReadOnlyList<DemoSong> Songs { get; } =
    [
        LampsAlongTheMole.Create(),
        RopeAndRain.Create(),
        TheNightDredger.Create(),
    ];
}
