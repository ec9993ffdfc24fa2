using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Notes about the album, the song and the chosen stem, with the time they are about.</summary>
internal sealed class NotesPage(AlbumDesk desk) : DrawerPage(desk)
{
    private bool isAboutAlbum;
    private bool isAboutSong;
    private bool hasTime = true;

    public override string Id => "notes";

    public override string Name => "notes";

    public override string Key => "7";

    public override string Purpose => "Notes with their times";

    public override string Explanation => "Type below and press Enter: the note keeps the place that is heard. Enter goes there, Delete takes a note away.";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => $"about {Subject}", Next, "What a new note is about: the chosen stem, the song, the album."),
        new(() => "with its time", () => Done(() => hasTime = !hasTime), "Whether a new note keeps the place that is heard.") { IsOn = () => hasTime && !isAboutAlbum },
        new(() => "set a marker", () => Desk.Transport.AddMarker(), "Marks the place that is heard; Ctrl and the arrows go from mark to mark."),
    ];

    public override DrawerEntry Entry => new(
        () => hasTime && !isAboutAlbum ? $"{TimeText.Of(Desk.Transport.PositionSeconds)}, {Subject}: what do you hear?" : $"{Subject}: what do you want to keep?",
        Add);

    public override object State => (Desk.Revision, isAboutAlbum, isAboutSong);

    private bool IsAboutStem => !isAboutAlbum && !isAboutSong && Desk.SelectedStem is not null;

    private string Subject => isAboutAlbum ? "the album" : IsAboutStem ? Desk.SelectedStem!.Name : "the song";

    public override IReadOnlyList<DrawerLine> Lines()
    {
        List<DrawerLine> lines = [];
        if (Desk.SelectedStem is { } stem)
        {
            AddAll(lines, stem.Name, Desk.Notes.OfStem(stem.Index), index => Desk.Notes.RemoveOfStem(stem.Index, index));
        }

        AddAll(lines, Desk.Song.Title, Desk.Notes.OfSong, Desk.Notes.RemoveOfSong);
        foreach (StemRow other in Desk.Stems.Where(each => each != Desk.SelectedStem && !Desk.Notes.OfStem(each.Index).IsEmpty))
        {
            AddAll(lines, other.Name, Desk.Notes.OfStem(other.Index), index => Desk.Notes.RemoveOfStem(other.Index, index));
        }

        AddAll(lines, Desk.Album.Title, Desk.Notes.OfAlbum, Desk.Notes.RemoveOfAlbum);
        return lines;
    }

    private void AddAll(List<DrawerLine> lines, string heading, ImmutableArray<Note> notes, Func<int, string?> remove)
    {
        if (notes.IsEmpty)
        {
            return;
        }

        lines.Add(DrawerLine.Heading(heading));
        lines.AddRange(notes.Select((note, index) => (note, index)).OrderBy(each => each.note.AtSeconds ?? -1).Select(each => new DrawerLine(
            each.note.Text, each.note.AtSeconds is { } at ? TimeText.Of(at) : string.Empty)
        {
            Act = each.note.AtSeconds is { } seconds ? () => Done(() => Desk.Transport.Seek(seconds)) : null,
            Remove = () => remove(each.index),
        }));
    }

    private string? Next()
    {
        (isAboutAlbum, isAboutSong) = isAboutAlbum ? (false, Desk.SelectedStem is null) : isAboutSong || Desk.SelectedStem is null ? (true, false) : (false, true);
        return null;
    }

    private string? Add(string text)
    {
        double? at = hasTime ? Desk.Transport.PositionSeconds : null;
        return isAboutAlbum ? Desk.Notes.AddToAlbum(text)
            : IsAboutStem ? Desk.Notes.AddToStem(Desk.SelectedStem!.Index, at, text)
            : Desk.Notes.AddToSong(at, text);
    }
}
