using System.Globalization;
using System.Text;
using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Delivery;

/// <summary>What a delivered file can be called after.</summary>
/// <param name="Order">Place of the song on the album, from 1.</param>
/// <param name="Song">The song.</param>
/// <param name="Album">The album.</param>
/// <param name="Version">"master", or the alternate's name.</param>
/// <param name="Format">Its form.</param>
/// <param name="Delivery">Number of the delivery.</param>
/// <param name="Date">Date of the delivery.</param>
public sealed record NamedAfter(int Order, Song Song, Album Album, string Version, DeliveryFormat Format, int Delivery, DateOnly Date);

/// <summary>
/// How masters and alternates are called, without their ending: words and fields in braces, such as
/// "{order} {title} {format} v{delivery}". What a field says is made safe for every common file system; what is written
/// around the fields must be safe already.
/// </summary>
public sealed class NamePattern
{
    // Names of 255 bytes are the most that common file systems take; the ending, and the dot of a file under way, need some.
    private const int MostBytes = 220;

    private static readonly (string Name, Func<NamedAfter, string> Value)[] Fields =
    [
        ("order", file => file.Order.ToString("00", CultureInfo.InvariantCulture)),
        ("title", file => file.Song.Title),
        ("album", file => file.Album.Title),
        ("artist", file => file.Album.Artist),
        ("version", file => file.Version),
        ("format", file => file.Format.Id),
        ("bits", file => file.Format.Bits.ToString(CultureInfo.InvariantCulture)),
        ("delivery", file => file.Delivery.ToString(CultureInfo.InvariantCulture)),
        ("date", file => file.Date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
        ("isrc", file => file.Song.Isrc.Length > 0 ? file.Song.Isrc : "no ISRC"),
    ];

    private readonly string text;
    private readonly List<(string Words, Func<NamedAfter, string>? Value)> parts;

    private NamePattern(string text, List<(string Words, Func<NamedAfter, string>? Value)> parts)
    {
        this.text = text;
        this.parts = parts;
    }

    /// <summary>"01 Foghorn Waltz": alternates have their name behind it in brackets.</summary>
    public static NamePattern Usual { get; } = Parse("{order} {title}");

    /// <summary>Names of the fields.</summary>
    public static IReadOnlyList<string> FieldNames { get; } = [.. Fields.Select(field => $"{{{field.Name}}}")];

    private bool TellsVersion => text.Contains("{version}", StringComparison.OrdinalIgnoreCase);

    /// <summary>Reads a pattern.</summary>
    /// <exception cref="DeliveryException">It has an unknown field, a brace too many, or characters that some system refuses in names.</exception>
    public static NamePattern Parse(string text)
    {
        List<(string, Func<NamedAfter, string>?)> parts = [];
        for (int at = 0; at < text.Length;)
        {
            int open = text.IndexOf('{', at);
            string words = open < 0 ? text[at..] : text[at..open];
            if (words.Contains('}'))
            {
                throw new DeliveryException($"the name pattern '{text}' has a '}}' without '{{' before it");
            }

            if (SafeFileName.Refused(words) is { } refused)
            {
                throw new DeliveryException($"the name pattern '{text}' holds {refused}, which some systems refuse in file names; leave it out (folders are made by the delivery itself)");
            }

            if (words.Length > 0)
            {
                parts.Add((words, null));
            }

            if (open < 0)
            {
                break;
            }

            int close = text.IndexOf('}', open);
            string name = close < 0 ? text[(open + 1)..] : text[(open + 1)..close];
            int field = Array.FindIndex(Fields, each => each.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
            if (close < 0 || field < 0)
            {
                throw new DeliveryException($"the name pattern '{text}' has {(close < 0 ? "a '{' that is not closed" : $"no such field as '{{{name}}}'")}; there are {string.Join(" ", FieldNames)}");
            }

            parts.Add((string.Empty, Fields[field].Value));
            at = close + 1;
        }

        return parts.Count > 0 ? new NamePattern(text, parts) : throw new DeliveryException("the name pattern is empty; the usual one is \"{order} {title}\"");
    }

    /// <summary>The name of a file, without its ending.</summary>
    /// <exception cref="DeliveryException">It is too long.</exception>
    public string Of(NamedAfter file)
    {
        string name = string.Concat(parts.Select(part => part.Value is null ? part.Words : SafeFileName.From(part.Value(file))));
        if (!TellsVersion && file.Version != NamedVersion.Master)
        {
            name += $" ({SafeFileName.From(file.Version)})";
        }

        name = SafeFileName.From(name);
        return Encoding.UTF8.GetByteCount(name) <= MostBytes
            ? name
            : throw new DeliveryException($"the file name '{name[..40]}…' of '{file.Song.Title}' is longer than the {MostBytes} bytes that every system takes; give a shorter --name-pattern or title");
    }

    /// <summary>The pattern as it was written.</summary>
    public override string ToString() => text;
}

/// <summary>The version that is no alternate.</summary>
internal static class NamedVersion
{
    /// <summary>Its name.</summary>
    public const string Master = "master";
}
