using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.Editing;

/// <summary>What an object of the file holds that this program does not read, as one text to compare.</summary>
internal static class KeptText
{
    public static string Of(ImmutableArray<Note> notes, params ReadOnlySpan<UnknownFields?> own)
    {
        string text = string.Empty;
        foreach (UnknownFields? fields in own)
        {
            text += Of(fields);
        }

        IEnumerable<Note> extended = notes.Where(note => note.Unknown.Fields.Count > 0);
        return extended.Aggregate(text, (before, note) => $"{before}{note.Text}{Of(note.Unknown)}");
    }

    // Each object ends with a mark, so that a field that wanders from one to another makes a difference.
    private static string Of(UnknownFields? fields) => fields is null || fields.Fields.Count == 0
        ? "\0"
        : string.Concat(fields.Fields.Select(pair => $"{pair.Key}\0{pair.Value}\0")) + "\0";
}
