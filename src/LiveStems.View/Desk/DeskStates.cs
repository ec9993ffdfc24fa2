using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>What is not as usual about playing and listening at a desk; what was said about it once may be long forgotten.</summary>
internal sealed class DeskStates(AlbumDesk desk)
{
    /// <summary>What must be known to trust what is heard and seen, the worst first.</summary>
    public IEnumerable<StateWords> Warnings
    {
        get
        {
            if (desk.Devices.IsLost)
            {
                yield return new("the sound device has gone", "device gone");
            }

            if (desk.Transport.State is not { } state)
            {
                yield break;
            }

            if (state.LoadLevel < LoadLevel.Faded && PlayerWords.LeftOut(state.LoadLevel, hasCurves: true) is { } leftOut)
            {
                yield return leftOut;
            }

            foreach (StateWords warning in PlayerWords.Warnings(state))
            {
                yield return warning;
            }
        }
    }

    /// <summary>How it is played and heard, where that is chosen otherwise than usual.</summary>
    public IEnumerable<StateWords> Choices
    {
        get
        {
            foreach (StateWords heard in PlayerWords.Listening(desk.Monitor.Settings))
            {
                yield return heard;
            }

            if (desk.IsWholeAlbum)
            {
                yield return new("whole album", "album");
            }

            if (desk.AreChainsOut)
            {
                yield return new("chains bypassed", "no chains");
            }
        }
    }
}
