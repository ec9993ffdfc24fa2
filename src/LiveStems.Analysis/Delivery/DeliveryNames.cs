using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Delivery;

/// <summary>The paths of a delivery's files inside its folder, with '/'.</summary>
/// <param name="album">The album.</param>
/// <param name="order">What is delivered, and how it is called.</param>
/// <param name="number">Number of the delivery.</param>
/// <param name="date">Its date.</param>
internal sealed class DeliveryNames(Album album, DeliveryOrder order, int number, DateOnly date)
{
    /// <summary>Sees to it that no two files get one name, whichever way capitals are taken.</summary>
    /// <exception cref="DeliveryException">Two do, or a name is too long.</exception>
    public static void Check(Album album, DeliveryOrder order)
    {
        DeliveryNames names = new(album, order, int.MaxValue, order.Date);
        Dictionary<string, string> taken = new(StringComparer.OrdinalIgnoreCase);
        foreach (int song in order.Songs)
        {
            foreach (string name in order.Formats.Select(format => names.Master(song, format)).Concat(order.Alternates.Select(alternate => names.Alternate(song, alternate))))
            {
                if (!taken.TryAdd(name, album.Songs[song].Title))
                {
                    throw new DeliveryException($"'{taken[name]}' and '{album.Songs[song].Title}' would both be called '{name}'; put {{order}}, {{title}} or {{version}} into --name-pattern '{order.Names}'");
                }
            }
        }
    }

    /// <summary>A master.</summary>
    public string Master(int song, DeliveryFormat format) =>
        $"{format.Id}/{order.Names.Of(After(song, NamedVersion.Master, format))}{format.Extension}";

    /// <summary>An alternate; they come in the first form.</summary>
    public string Alternate(int song, Alternate alternate) =>
        $"alternates/{order.Names.Of(After(song, alternate.Name, order.Formats[0]))}{order.Formats[0].Extension}";

    /// <summary>A treated stem.</summary>
    public string Stem(int song, int stem, DeliveryFormat format) =>
        $"treated stems/{NamePattern.Usual.Of(After(song, NamedVersion.Master, format))}/{stem + 1:00} {SafeFileName.From(album.Songs[song].Stems[stem].Name)}{format.Extension}";

    private NamedAfter After(int song, string version, DeliveryFormat format) => new(song + 1, album.Songs[song], album, version, format, number, date);
}
