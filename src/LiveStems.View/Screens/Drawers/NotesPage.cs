using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Notes about the album, the song and the chosen stem, with the time they are about.</summary>
internal sealed class NotesPage(AlbumDesk desk) : DrawerPage(desk)
{
    private readonly List<Place?> shown = [];
    private bool isAboutAlbum;
    private bool isAboutSong;
    private bool hasTime = true;
    private Place? changing;

    public override string Id => "notes";

    public override string Name => "notes";

    public override string Key => "7";

    public override string Purpose => "Notes with their times";

    public override string Explanation => changing is null
        ? "Type below and press Enter: the note keeps the place that is heard. Enter goes there, Delete takes a note away, “change” puts it below; markers alike."
        : "Change the words below, or the time before them (1:05 or 1:05.3), and press Enter. A marker keeps a time.";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => $"about {Subject}", Next, "What a new note is about: the chosen stem, the song, the album."),
        new(() => "with its time", () => Done(() => hasTime = !hasTime), "Whether a new note keeps the place that is heard.") { IsOn = () => hasTime && !isAboutAlbum },
        new(() => changing is null ? "change" : "leave it", ChangeChosen, "Puts the chosen note below, to change its words or its time."),
        new(() => "set a marker", () => Desk.Transport.AddMarker(), "Marks the place that is heard; Ctrl and the arrows go from mark to mark, Shift+J takes the one away that is here."),
    ];

    public override DrawerEntry Entry => new(
        () => hasTime && !isAboutAlbum ? $"{TimeText.Of(Desk.Transport.PositionSeconds)}, {Subject}: what do you hear?" : $"{Subject}: what do you want to keep?",
        Take);

    public override string About => changing is { } place ? $"“{NoteAt(place)?.Text}” in {Desk.Song.Title}"
        : isAboutAlbum ? Subject : IsAboutStem ? $"{Subject} in {Desk.Song.Title}" : Desk.Song.Title;

    public override object State => (Desk.Revision, isAboutAlbum, isAboutSong);

    private bool IsAboutStem => !isAboutAlbum && !isAboutSong && Desk.SelectedStem is not null;

    private string Subject => isAboutAlbum ? "the album" : IsAboutStem ? Desk.SelectedStem!.Name : "the song";

    public override IReadOnlyList<DrawerLine> Lines()
    {
        List<DrawerLine> lines = [];
        shown.Clear();
        if (Desk.SelectedStem is { } stem)
        {
            AddAll(lines, stem.Name, stem.Index, Desk.Notes.OfStem(stem.Index));
        }

        AddAll(lines, Desk.Song.Title, Place.OfSong, Desk.Notes.OfSong);
        AddAll(lines, $"markers of {Desk.Song.Title}", Place.OfMarkers, [.. Desk.Song.Markers.Select(marker => new Note(marker.AtSeconds, marker.Name))]);
        foreach (StemRow other in Desk.Stems.Where(each => each != Desk.SelectedStem && !Desk.Notes.OfStem(each.Index).IsEmpty))
        {
            AddAll(lines, other.Name, other.Index, Desk.Notes.OfStem(other.Index));
        }

        AddAll(lines, Desk.Album.Title, Place.OfAlbum, Desk.Notes.OfAlbum);
        return lines;
    }

    public override void Opened() => changing = null;

    private void AddAll(List<DrawerLine> lines, string heading, int owner, ImmutableArray<Note> notes)
    {
        if (notes.IsEmpty)
        {
            return;
        }

        lines.Add(DrawerLine.Heading(heading));
        shown.Add(null);
        foreach ((Note note, int index) in notes.Select((note, index) => (note, index)).OrderBy(each => each.note.AtSeconds ?? -1))
        {
            Place place = new(owner, index);
            shown.Add(place);
            lines.Add(new DrawerLine(note.Text, note.AtSeconds is { } at ? TimeText.Of(at) : string.Empty)
            {
                Act = note.AtSeconds is { } seconds ? () => Done(() => Desk.Transport.Seek(seconds)) : null,
                Remove = () => Remove(place),
            });
        }
    }

    private string? Next()
    {
        (isAboutAlbum, isAboutSong) = isAboutAlbum ? (false, Desk.SelectedStem is null) : isAboutSong || Desk.SelectedStem is null ? (true, false) : (false, true);
        return null;
    }

    private string? ChangeChosen()
    {
        if (changing is not null)
        {
            changing = null;
            PutWords(string.Empty);
            return null;
        }

        if (Chosen < 0 || Chosen >= shown.Count || shown[Chosen] is not { } place || NoteAt(place) is not { } note)
        {
            return "choose a note or a marker first";
        }

        changing = place;
        PutWords(note.AtSeconds is { } at ? $"{TimeText.Exact(at)} {note.Text}" : note.Text);
        return null;
    }

    private string? Take(string text)
    {
        if (changing is { } place && NoteAt(place) is { } before)
        {
            string? fault = Change(place, Read(text, before));
            changing = fault is null ? null : changing;
            return fault;
        }

        changing = null;
        double? now = hasTime ? Desk.Transport.PositionSeconds : null;
        return isAboutAlbum ? Desk.Notes.AddToAlbum(text)
            : IsAboutStem ? Desk.Notes.AddToStem(Desk.SelectedStem!.Index, now, text)
            : Desk.Notes.AddToSong(now, text);
    }

    // A time stands before the words of notes about songs and stems; without one, the note loses its time.
    private static Note Read(string text, Note before)
    {
        string words = text.Trim();
        int end = words.IndexOf(' ', StringComparison.Ordinal);
        if (end <= 0 || !words[..end].Contains(':', StringComparison.Ordinal) || !TimeText.TryParse(words[..end], out double at))
        {
            return before with { AtSeconds = null, Text = words };
        }

        // A time that was left as it stood is meant as exactly as it was.
        bool isAsBefore = before.AtSeconds is { } earlier && TimeText.Exact(earlier) == words[..end];
        return before with { AtSeconds = isAsBefore ? before.AtSeconds : at, Text = words[(end + 1)..].Trim() };
    }

    private Note? NoteAt(Place place)
    {
        if (place.Owner == Place.OfMarkers)
        {
            return place.Index < Desk.Song.Markers.Length ? new Note(Desk.Song.Markers[place.Index].AtSeconds, Desk.Song.Markers[place.Index].Name) : null;
        }

        ImmutableArray<Note> notes = place.Owner == Place.OfAlbum ? Desk.Notes.OfAlbum
            : place.Owner == Place.OfSong ? Desk.Notes.OfSong
            : place.Owner < Desk.Stems.Count ? Desk.Notes.OfStem(place.Owner) : [];
        return place.Index < notes.Length ? notes[place.Index] : null;
    }

    private string? Change(Place place, Note note) => place.Owner switch
    {
        Place.OfAlbum => Desk.Notes.ChangeOfAlbum(place.Index, note),
        Place.OfSong => Desk.Notes.ChangeOfSong(place.Index, note),
        Place.OfMarkers => note.AtSeconds is { } at ? Desk.Transport.ChangeMarker(place.Index, note.Text, at) : "a marker has its time before its name, such as 1:05 Chorus",
        _ => Desk.Notes.ChangeOfStem(place.Owner, place.Index, note),
    };

    private string? Remove(Place place) => place.Owner switch
    {
        Place.OfAlbum => Desk.Notes.RemoveOfAlbum(place.Index),
        Place.OfSong => Desk.Notes.RemoveOfSong(place.Index),
        Place.OfMarkers => Desk.Transport.RemoveMarker(place.Index),
        _ => Desk.Notes.RemoveOfStem(place.Owner, place.Index),
    };

    // Whose note it is: a stem by its index, the song or the album, or the song's markers; and which of them.
    private readonly record struct Place(int Owner, int Index)
    {
        public const int OfSong = -1;
        public const int OfAlbum = -2;
        public const int OfMarkers = -3;
    }
}
