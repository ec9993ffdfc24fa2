using System.Collections;

namespace LiveStems.Albums.Storage;

/// <summary>Everything that is wrong, in the order it was found; one fault for a place.</summary>
public sealed class AlbumFaults : IReadOnlyList<AlbumFault>
{
    private readonly List<AlbumFault> faults = [];
    private readonly HashSet<string> places = new(StringComparer.Ordinal);

    /// <summary>How many.</summary>
    public int Count => faults.Count;

    /// <summary>One of them.</summary>
    public AlbumFault this[int index] => faults[index];

    /// <summary>
    /// Notes a fault. A second fault of the same place is left out: it is nearly always a consequence of the first.
    /// </summary>
    public void Add(string path, string message)
    {
        if (places.Add(path))
        {
            faults.Add(new AlbumFault(OneLine(path), OneLine(message)));
        }
    }

    /// <inheritdoc/>
    public IEnumerator<AlbumFault> GetEnumerator() => faults.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    internal void Add(FieldPath path, string message) => Add(path.ToString(), message);

    // Names from a file may hold anything, line ends too.
    private static string OneLine(string text) =>
        text.Any(char.IsControl) ? string.Concat(text.Select(letter => char.IsControl(letter) ? ' ' : letter)) : text;
}
