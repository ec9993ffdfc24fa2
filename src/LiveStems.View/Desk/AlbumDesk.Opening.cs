using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

// How a desk comes to be: an album, a device, and what is to be said about both.
public sealed partial class AlbumDesk
{
    /// <summary>Opens an album on a sound device.</summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="device">Where the sound goes; stays the caller's to dispose of.</param>
    /// <exception cref="AlbumException">There is no album, it breaks a rule, it holds no songs, or it is open elsewhere.</exception>
    /// <exception cref="AudioDeviceException">The device cannot start.</exception>
    public static AlbumDesk Open(string albumFolderOrFile, ProcessorCatalogue catalogue, IAudioDevice device) =>
        Open(albumFolderOrFile, catalogue, device, ownsDevice: false, isAside: false);

    /// <summary>
    /// Opens an album on the device that fits a choice; on the silent device, with a remark, where none can be had. The sound
    /// starts with <see cref="BeginSound"/>, and from then on whatever takes long for it is done on other threads.
    /// </summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="deviceChoice">Part of a device's name, "silent", or null for the system's own.</param>
    /// <param name="bufferFrames">Frames the device asks for at a time.</param>
    /// <param name="first">Index of the song that is to be shown, whose rate the sound runs at; it is the caller's to show it. The first one by itself.</param>
    /// <exception cref="AlbumException">There is no album, it breaks a rule, it holds no songs, or it is open elsewhere.</exception>
    public static AlbumDesk Open(string albumFolderOrFile, ProcessorCatalogue catalogue, string? deviceChoice, int bufferFrames, Func<Album, int>? first = null)
    {
        (IAudioDevice device, string remark) = DeskOpening.Device(albumFolderOrFile, catalogue, deviceChoice, bufferFrames, first ?? (_ => 0));
        try
        {
            AlbumDesk desk = Open(albumFolderOrFile, catalogue, device, ownsDevice: true, isAside: true);
            desk.Say(MessageKind.Remark, remark);
            if (device is DeviceKeeper { Choice: AudioDevices.Silent } && deviceChoice != AudioDevices.Silent)
            {
                desk.Devices.Miss(deviceChoice);
            }

            return desk;
        }
        catch
        {
            device.Dispose();
            throw;
        }
    }

    /// <summary>Starts the sound of a desk that was opened by a choice of device; a window shows its first picture before.</summary>
    public void BeginSound() => Player.StartAside();

    private static AlbumDesk Open(string albumFolderOrFile, ProcessorCatalogue catalogue, IAudioDevice device, bool ownsDevice, bool isAside)
    {
        AlbumSession session = DeskOpening.Album(albumFolderOrFile, catalogue);
        try
        {
            AlbumDesk desk = new(session, catalogue, device, ownsDevice, isAside);
            desk.OnAlbumChanged();
            if (session.Remark is { } remark)
            {
                desk.Say(MessageKind.Remark, remark);
            }

            foreach (string absent in AbsentProcessors.In(session.Album, catalogue))
            {
                desk.Say(MessageKind.Remark, absent);
            }

            desk.sound.Know(MissingOnOpening.Lines(session.Album, catalogue));

            return desk;
        }
        catch
        {
            session.Dispose();
            throw;
        }
    }
}
