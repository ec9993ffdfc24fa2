using LiveStems.Albums.Model;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Files;

namespace LiveStems.View.Desk;

/// <summary>What the desk tells its player, and what player and device have to say; nothing here waits.</summary>
/// <param name="player">The player.</param>
/// <param name="device">Where the sound goes.</param>
/// <param name="say">Tells the person at the desk.</param>
internal sealed class DeskSound(LivePlayer player, IAudioDevice device, Action<MessageKind, string> say)
{
    private readonly HashSet<string> known = [];
    private (string? Song, IReadOnlyList<string> Lines) converted = (null, []);
    private TapPlace tapped = TapPlace.Bus;

    /// <summary>Takes note of lines that the person at the desk has been told already.</summary>
    public void Know(IEnumerable<string> lines) => known.UnionWith(lines);

    /// <summary>Lets go of lines that do not hold any more: where one becomes true again, it is told.</summary>
    /// <param name="stillTrue">Those that hold.</param>
    public void KnowOnly(IEnumerable<string> stillTrue) => known.IntersectWith(stillTrue);

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
                if (!known.Contains(trouble))
                {
                    say(MessageKind.Trouble, PlainText.Of(trouble));
                }
            }

            TellConverted();
        }
        catch (Exception fault) when (fault is AudioFileException or IOException)
        {
            say(MessageKind.Trouble, fault.Message);
        }
    }

    // That a song is heard at another rate than its own is said each time that it comes.
    private void TellConverted()
    {
        (string? song, IReadOnlyList<string> now) = player.Converted;
        if (song == converted.Song && (ReferenceEquals(now, converted.Lines) || now.SequenceEqual(converted.Lines)))
        {
            return;
        }

        converted = (song, now);
        if (now.Count > 0)
        {
            string more = now.Count == 1 ? string.Empty : $", and {now.Count - 1} more stem{(now.Count == 2 ? string.Empty : "s")}";
            say(MessageKind.Remark, PlainText.Of($"{song}, {now[0]}{more}"));
        }
    }
}
