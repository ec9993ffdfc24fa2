using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>What the engineer wrote down about the album, the song and its stems, with or without a time in the song.</summary>
public sealed class NotesModel
{
    private readonly AlbumDesk desk;

    internal NotesModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>About the album.</summary>
    public ImmutableArray<Note> OfAlbum => desk.Album.Notes;

    /// <summary>About the song.</summary>
    public ImmutableArray<Note> OfSong => desk.Song.Notes;

    /// <summary>About a stem of the song.</summary>
    public ImmutableArray<Note> OfStem(int stem) => desk.Song.Stems[stem].Notes;

    /// <summary>Adds a note about the album.</summary>
    public string? AddToAlbum(string text) =>
        IsEmpty(text) ?? desk.Edit(album => album with { Notes = album.Notes.Add(new Note(null, text.Trim())) });

    /// <summary>Adds a note about the song; null for no time.</summary>
    public string? AddToSong(double? seconds, string text) =>
        IsEmpty(text) ?? desk.EditSong(song => song with { Notes = song.Notes.Add(new Note(Rounded(seconds), text.Trim())) });

    /// <summary>Adds a note about a stem; null for no time.</summary>
    public string? AddToStem(int stem, double? seconds, string text) =>
        IsEmpty(text) ?? ChangeStem(stem, notes => notes.Add(new Note(Rounded(seconds), text.Trim())));

    /// <summary>Changes the words of a note of the album, which has no time.</summary>
    public string? ChangeOfAlbum(int index, Note note) =>
        IsEmpty(note.Text) ?? desk.Edit(album => album with { Notes = album.Notes.SetItem(index, note with { AtSeconds = null }) });

    /// <summary>Changes the words or the time of a note of the song.</summary>
    public string? ChangeOfSong(int index, Note note) => IsEmpty(note.Text) ?? desk.EditSong(song => song with { Notes = song.Notes.SetItem(index, note) });

    /// <summary>Changes the words or the time of a note of a stem.</summary>
    public string? ChangeOfStem(int stem, int index, Note note) => IsEmpty(note.Text) ?? ChangeStem(stem, notes => notes.SetItem(index, note));

    /// <summary>Takes a note of the album away.</summary>
    public string? RemoveOfAlbum(int index) => desk.Edit(album => album with { Notes = album.Notes.RemoveAt(index) });

    /// <summary>Takes a note of the song away.</summary>
    public string? RemoveOfSong(int index) => desk.EditSong(song => song with { Notes = song.Notes.RemoveAt(index) });

    /// <summary>Takes a note of a stem away.</summary>
    public string? RemoveOfStem(int stem, int index) => ChangeStem(stem, notes => notes.RemoveAt(index));

    private static string? IsEmpty(string text) => string.IsNullOrWhiteSpace(text) ? "a note needs words" : null;

    // Hundredths of a second are as near as anybody points.
    private static double? Rounded(double? seconds) => seconds is { } at ? Math.Round(Math.Max(0, at), 2) : null;

    private string? ChangeStem(int stem, Func<ImmutableArray<Note>, ImmutableArray<Note>> change) => desk.EditSong(
        song => song with { Stems = song.Stems.SetItem(stem, song.Stems[stem] with { Notes = change(song.Stems[stem].Notes) }) });
}
