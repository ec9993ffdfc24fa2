using LiveStems.Albums;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>Opens the album and the sound device that a desk works with.</summary>
internal static class DeskOpening
{
    /// <summary>An album with at least one song, taken for changing.</summary>
    /// <exception cref="AlbumException">There is no album, it breaks a rule, it holds no songs, or it is open elsewhere.</exception>
    public static AlbumSession Album(string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        AlbumSession session = AlbumSession.Open(albumFolderOrFile, catalogue, Albums.Journal.Unsaved.TakeIn);
        if (!session.Album.Songs.IsEmpty)
        {
            return session;
        }

        string folder = session.Folder;
        session.Dispose();
        throw new AlbumException($"{folder}: the album has no songs; 'livestems import' brings some in");
    }

    /// <summary>The device that fits a choice, at the rate of a song; the silent one, with the reason, where none can be had.</summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="choice">Part of a device's name, "silent", or null for the system's own.</param>
    /// <param name="bufferFrames">Frames the device asks for at a time.</param>
    /// <param name="first">Which song is opened, of those there are.</param>
    public static (IAudioDevice Device, string Remark) Device(string albumFolderOrFile, ProcessorCatalogue catalogue, string? choice, int bufferFrames, Func<Album, int> first)
    {
        Album album = AlbumFile.Load(albumFolderOrFile, catalogue);
        DeviceSettings settings = new(DeskRate.For(album.Songs.IsEmpty ? null : album.Songs[first(album)], AlbumFile.FolderOf(albumFolderOrFile)), bufferFrames);
        try
        {
            DeviceKeeper keeper = new(choice, settings);
            return (keeper, keeper.Message);
        }
        catch (AudioDeviceException fault)
        {
            return (new DeviceKeeper(AudioDevices.Silent, settings), $"{fault.Message}; going on without sound");
        }
    }
}
