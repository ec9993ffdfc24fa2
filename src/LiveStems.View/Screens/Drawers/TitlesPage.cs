using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What the shown song and the album are called, what goes into the files beside the sound, and what masters aim at.</summary>
/// <param name="desk">The desk.</param>
/// <param name="pickFile">Has a sound file chosen; the path is handed on.</param>
internal sealed class TitlesPage(AlbumDesk desk, Action<Action<string>> pickFile) : DrawerPage(desk)
{
    private TitleKind asked;

    public override string Id => "titles";

    public override string Name => "titles";

    public override string Key => "F7";

    public override string Purpose => "Titles, recording code, targets";

    public override string SearchWords => "artist isrc sample rate rough mix loudness lufs ceiling dbtp peak ratio plr rename song album";

    public override string Explanation =>
        "Enter puts a line below, to be changed there; Delete takes away what can be absent. Titles, artist and code go into delivered files.";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => "take the song out", () => Desk.Songs.Remove(Desk.SongIndex), "Takes this song out of the album; its files stay where they are, and it can be undone."),
    ];

    public override string About => asked is TitleKind.Album or TitleKind.Artist ? Desk.Album.Title : Desk.Song.Title;

    public override DrawerEntry Entry => new(() => HintOf(asked), Take);

    public override IReadOnlyList<ValueField> Values => Desk.Targets.Fields;

    public override string ValuesName => "what masters aim at; the headroom page (4) sets limiters to it";

    public override object State => (Desk.Revision, asked);

    public override void Opened() => asked = TitleKind.Song;

    public override IReadOnlyList<DrawerLine> Lines() =>
    [
        DrawerLine.Heading($"song {Desk.SongIndex + 1}"),
        LineOf(TitleKind.Song, Desk.Song.Title),
        LineOf(TitleKind.RecordingCode, Desk.Titles.RecordingCode),
        LineOf(TitleKind.SampleRate, Desk.Titles.SampleRate, "that of most stems"),
        LineOf(TitleKind.RoughMix, Desk.Titles.RoughMix),
        new DrawerLine(Desk.Targets.AreOwn ? "targets of its own" : "the album's targets", "aims at") { Act = Desk.Targets.ToggleOwn },
        DrawerLine.Heading("album"),
        LineOf(TitleKind.Album, Desk.Album.Title),
        LineOf(TitleKind.Artist, Desk.Album.Artist),
    ];

    /// <summary>Asks for one of the titles, as if its line had been entered.</summary>
    public string? Ask(TitleKind kind)
    {
        if (kind == TitleKind.RoughMix)
        {
            pickFile(path => Desk.Titles.SetRoughMix(path));
            return null;
        }

        asked = kind;
        PutWords(Present(kind));
        return null;
    }

    /// <summary>What a line is of: "title", "recording code (ISRC)".</summary>
    public static string NameOf(TitleKind kind) => kind switch
    {
        TitleKind.Song or TitleKind.Album => "title",
        TitleKind.RecordingCode => "recording code (ISRC)",
        TitleKind.SampleRate => "sample rate",
        TitleKind.RoughMix => "rough mix",
        _ => "artist",
    };

    private static string HintOf(TitleKind kind) => kind switch
    {
        TitleKind.Song => "another title for the song",
        TitleKind.RecordingCode => "recording code, such as AA-6Q7-26-00001, or none",
        TitleKind.SampleRate => "sample rate, such as 48 kHz, or none for that of most stems",
        TitleKind.Album => "another title for the album",
        _ => "who plays",
    };

    private static bool CanBeAbsent(TitleKind kind) => kind is not (TitleKind.Song or TitleKind.Album);

    private DrawerLine LineOf(TitleKind kind, string value, string absent = "none") => new(value.Length > 0 ? value : absent, NameOf(kind))
    {
        Tone = value.Length > 0 ? Tone.Text : Tone.Quiet,
        Act = () => Ask(kind),
        Remove = CanBeAbsent(kind) && value.Length > 0 ? () => Set(kind, kind == TitleKind.Artist ? string.Empty : "none") : null,
    };

    private string Present(TitleKind kind) => kind switch
    {
        TitleKind.Song => Desk.Song.Title,
        TitleKind.RecordingCode => Desk.Titles.RecordingCode,
        TitleKind.SampleRate => Desk.Titles.SampleRate,
        TitleKind.Album => Desk.Album.Title,
        _ => Desk.Album.Artist,
    };

    private string? Set(TitleKind kind, string text) => kind switch
    {
        TitleKind.Song => Desk.Titles.SetTitle(text),
        TitleKind.RecordingCode => Desk.Titles.SetRecordingCode(text),
        TitleKind.SampleRate => Desk.Titles.SetSampleRate(text),
        TitleKind.RoughMix => Desk.Titles.SetRoughMix(text),
        TitleKind.Album => Desk.Titles.SetAlbumTitle(text),
        _ => Desk.Titles.SetArtist(text),
    };

    private string? Take(string text)
    {
        string? fault = Set(asked, text);
        asked = fault is null ? TitleKind.Song : asked;
        return fault;
    }
}

/// <summary>What of song and album has words.</summary>
internal enum TitleKind
{
    Song,
    RecordingCode,
    SampleRate,
    RoughMix,
    Album,
    Artist,
}
