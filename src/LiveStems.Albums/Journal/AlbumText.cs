using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Journal;

/// <summary>An album as the one text that saving would write.</summary>
internal static class AlbumText
{
    public static string Of(Album album, ProcessorCatalogue catalogue) => Encoding.UTF8.GetString(AlbumWriter.Write(album, catalogue));
}
