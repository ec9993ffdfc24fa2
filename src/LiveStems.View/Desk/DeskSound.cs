using LiveStems.Albums.Model;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Files;

namespace LiveStems.View.Desk;

/// <summary>What the desk tells its player, and what player and device have to say; nothing here waits.</summary>
/// <param name="player">The player.</param>
/// <param name="device">Where the sound goes.</param>
/// <param name="say">Tells the person at the desk.</param>
internal sealed class DeskSound(LivePlayer player, IAudioDevice device, Action<MessageKind, string> say)
{
    private TapPlace tapped = TapPlace.Bus;

    /// <summary>Hands the player a song as it is to be heard.</summary>
    public void Show(Song song, string folder)
    {
        try
        {
            player.Show(song, folder);
        }
        catch (Exception fault) when (fault is AudioFileException or IOException)
        {
            say(MessageKind.Trouble, fault.Message);
        }
    }

    /// <summary>Listens at a place; true when it is another than before.</summary>
    public bool Tap(TapPlace place)
    {
        if (place == tapped)
        {
            return false;
        }

        tapped = place;
        player.Tap(place);
        return true;
    }

    /// <summary>Lets the player do what is not for the audio thread, and tells what went wrong.</summary>
    public void Update()
    {
        if (device is DeviceKeeper keeper)
        {
            KeptDeviceState before = keeper.State;
            if (keeper.Update() is KeptDeviceState.Lost or KeptDeviceState.Returned && keeper.State != before)
            {
                say(MessageKind.Trouble, keeper.Message);
            }
        }

        try
        {
            foreach (string trouble in player.Update())
            {
                say(MessageKind.Trouble, trouble);
            }
        }
        catch (Exception fault) when (fault is AudioFileException or IOException)
        {
            say(MessageKind.Trouble, fault.Message);
        }
    }
}
