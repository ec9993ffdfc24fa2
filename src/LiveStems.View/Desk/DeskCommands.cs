using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>The commands of the desk itself; the window adds those that only a window has.</summary>
internal static class DeskCommands
{
    private const double SkipSeconds = 5;
    private const string OfOthers = "add-other-";
    private const string OnlyTheBus = "the song bus is chosen: choose a stem or a parallel first (Up, Down)";

    public static CommandList For(AlbumDesk desk)
    {
        CommandList list = new();
        AddPlaying(list, desk);
        AddListening(list, desk);
        AddSongs(list, desk);
        AddStems(list, desk);
        AddChain(list, desk);
        AddAlbum(list, desk);
        return list;
    }

    private static void AddPlaying(CommandList list, AlbumDesk desk)
    {
        const string Group = "Playing";
        list.Add("play", Group, "Play or stop", "Space", desk.Transport.Toggle, "start pause");
        list.Add("start", Group, "To the start", "Home", () => desk.Transport.Seek(desk.StartSeconds), "beginning rewind");
        list.Add("end", Group, "To the end", "End", () => desk.Transport.Seek(desk.Transport.LengthSeconds));
        list.Add("whole-album", Group, "The whole album as it will stand, song after song, or this song alone", "Shift+A", desk.ToggleWholeAlbum, "songs follow gaps fades cross-fades sequence continuous order on off");
        list.Add("back", Group, "5 seconds back", "Left", () => desk.Transport.Skip(-SkipSeconds), "rewind");
        list.Add("on", Group, "5 seconds on", "Right", () => desk.Transport.Skip(SkipSeconds), "forward");
        list.Add("marker-back", Group, "To the marker before", "Ctrl+Left", () => desk.Transport.SeekMarker(-1), "previous");
        list.Add("marker-on", Group, "To the next marker", "Ctrl+Right", () => desk.Transport.SeekMarker(1));
        list.Add("loop-in", Group, "Loop from here", "I", desk.Transport.LoopFromHere, "start repeat");
        list.Add("loop-out", Group, "Loop to here", "O", desk.Transport.LoopToHere, "end repeat");
        list.Add("loop-off", Group, "No loop", "L", desk.Transport.ClearLoop, "repeat clear");
        list.Add("marker-remove", Group, "Take the marker away that is here", "Shift+J", desk.Transport.RemoveMarkerHere, "delete remove place");
    }

    private static void AddListening(CommandList list, AlbumDesk desk)
    {
        const string Group = "Listening";
        MonitorModel monitor = desk.Monitor;
        list.Add("dim", Group, "Dim", "D", monitor.ToggleDim, "quiet softer monitor");
        list.Add("record", Group, "Record what you hear, or end the recording", "Shift+R", desk.Recording.Toggle, "capture write file wav monitor bounce start stop");
        list.Add("louder", Group, "Monitor 1 dB up", "+|=", () => monitor.ChangeLevel(1), "louder level volume");
        list.Add("softer", Group, "Monitor 1 dB down", "-", () => monitor.ChangeLevel(-1), "softer level volume");
        list.Add("safety-down", Group, "Safety limiter 1 dB lower", string.Empty, () => ChangeSafety(desk, -1), "ceiling protect ears level");
        list.Add("safety-up", Group, "Safety limiter 1 dB higher", string.Empty, () => ChangeSafety(desk, 1), "ceiling protect ears level");
        list.Add("mono", Group, "Mono", "H", () => monitor.ToggleChannels(MonitorChannels.Mono), "monitor sum");
        list.Add("side", Group, "Side only", "Shift+H", () => monitor.ToggleChannels(MonitorChannels.Side), "monitor difference left right");
        list.Add("swap", Group, "Exchange left and right", "Y", monitor.ToggleSwap, "monitor sides");
        list.Add("band", Group, "Band-listen", "F", monitor.ToggleBand, "hear one frequency band");
        list.Add("band-down", Group, "Band a sixth of an octave down", "Z", () => monitor.MoveBand(-1), "frequency lower");
        list.Add("band-up", Group, "Band a sixth of an octave up", "X", () => monitor.MoveBand(1), "frequency higher");
        list.Add("band-narrower", Group, "Band narrower", "N", () => monitor.WidenBand(0.8), "width");
        list.Add("band-wider", Group, "Band wider", "W", () => monitor.WidenBand(1.25), "width");
        list.Add("band-slope", Group, "Band edges 24 or 48 dB/oct", "Shift+F", monitor.ToggleBandSlope, "slope steep filter");
        list.Add("chains", Group, "All stem and song chains out at once, for listening only, or as they are", "Ctrl+B", desk.ToggleChains, "bypass everything stems bus untreated before after");
        list.Add("compare", Group, "Compare: in or out", "C", desk.Compare.Toggle, "bypass before after");
        list.Add("difference", Group, "Compare: hear the difference", "Shift+C", desk.Compare.ToggleDifference, "delta");
        list.Add("compare-file-here", Group, "The compared file starts here", string.Empty, () => desk.Compare.StartFileAt(desk.Transport.PositionSeconds), "offset align reference");
        list.Add("compare-file-later", Group, "The compared file starts 10 ms later", string.Empty, () => desk.Compare.StartFileAt(desk.Compare.FileStartSeconds + 0.01), "offset align reference");
        list.Add("compare-file-earlier", Group, "The compared file starts 10 ms earlier", string.Empty, () => desk.Compare.StartFileAt(desk.Compare.FileStartSeconds - 0.01), "offset align reference");
        list.Add("compare-off", Group, "No comparison", "Ctrl+Shift+C", desk.Compare.Stop, "end");
        list.Add("hearing", Group, "Compare: alone or in the song", "Alt+C", desk.Compare.ToggleHearing, "solo context");
        foreach (CompareKind kind in Enum.GetValues<CompareKind>().Where(kind => kind is not (CompareKind.Version or CompareKind.File)))
        {
            list.Add($"compare-{kind}".ToLowerInvariant(), Group, $"Compare: {WordsOf(kind)}", string.Empty, () => desk.Compare.Choose(kind), "before after in out");
        }

        list.Add("fair", Group, "Compare at equal loudness", "G", desk.Compare.ToggleFair, "fair gain match");
        list.Add("tone", Group, "Tone of 1 kHz, to set the level by", string.Empty, () => monitor.ToggleSignal(MonitorSignal.Tone), "test sine");
        list.Add("device-system", Group, "Play to whatever the system plays to", string.Empty, () => desk.Devices.Choose(null), "sound device default output");
        list.Add("device-silent", Group, "Play to nobody: the silent device", string.Empty, () => desk.Devices.Choose(Engine.Devices.AudioDevices.Silent), "sound device mute without output");
        list.Add("device-again", Group, "Look for sound devices again", string.Empty, desk.Devices.LookAgain, "refresh output interface headphones plug");
        list.Add("noise", Group, "Pink noise, to set the level by", string.Empty, () => monitor.ToggleSignal(MonitorSignal.PinkNoise), "test calibrate");
    }

    private static void AddSongs(CommandList list, AlbumDesk desk)
    {
        const string Group = "Songs";
        list.Add("song-back", Group, "Song before", "Page up", () => desk.ShowSong(desk.SongIndex - 1), "previous");
        list.Add("song-on", Group, "Next song", "Page down", () => desk.ShowSong(desk.SongIndex + 1));
        list.Add("album-measure", Group, "Measure all songs", string.Empty, () => _ = desk.Songs.Measure(), "loudness album lufs balance");
        list.Add("song-earlier", Group, "Song one place earlier", "Alt+Page up", () => desk.Songs.Move(desk.SongIndex, desk.SongIndex - 1), "order move album start sequence");
        list.Add("song-later", Group, "Song one place later", "Alt+Page down", () => desk.Songs.Move(desk.SongIndex, desk.SongIndex + 1), "order move album end sequence");
        list.Add("song-remove", Group, "Take the song out of the album", string.Empty, () => desk.Songs.Remove(desk.SongIndex), "delete remove");
        list.Add("song-targets", Group, "Targets of the song's own, or the album's", string.Empty, desk.Targets.ToggleOwn, "loudness ceiling lufs");
        foreach (SongState state in Enum.GetValues<SongState>())
        {
            string word = AlbumWords.State[state];
            list.Add($"song-{word}", Group, $"The song is {word}", string.Empty, () => desk.Songs.SetState(desk.SongIndex, state), "state client");
        }

        list.Add("meters-reset", Group, "Start the loudness meters anew", "R", desk.Meters.Reset, "integrated range reset");
        list.Add("meters-relative", Group, "Loudness meters in LU or in LUFS", string.Empty, () => desk.Meters.IsRelative = !desk.Meters.IsRelative, "relative absolute target unit");
        list.Add("meters-scale", Group, "Loudness meters up to +9 or to +18 LU", string.Empty, () => desk.Meters.IsWideScale = !desk.Meters.IsWideScale, "scale range wide");
        list.Add("meters-pause", Group, "Hold the loudness meters, or go on", string.Empty, desk.Meters.ToggleRunning, "pause integrated stop");
    }

    private static void AddStems(CommandList list, AlbumDesk desk)
    {
        const string Group = "Stems";
        list.Add("stem-back", Group, "Stem before", "Up", () => desk.SelectStem(-1), "previous select");
        list.Add("stem-on", Group, "Next stem", "Down", () => desk.SelectStem(1), "select");
        list.Add("bus", Group, "The song bus", "0", () => desk.Select(TapPlace.Bus), "select master");
        list.Add("solo", Group, "Solo", "S", () => Solo(desk, alone: false), "hear alone");
        list.Add("solo-alone", Group, "Solo of this stem alone", "Shift+S", () => Solo(desk, alone: true));
        list.Add("solo-none", Group, "No solo", "Ctrl+Shift+S", desk.ClearSolo, "clear");
        list.Add("mute", Group, "Mute", "M", () => OfChosen(desk, stem => stem.ToggleMute(), parallel => parallel.ToggleMute()), "stem parallel out of the mix silence");
        list.Add("polarity", Group, "Turn polarity over", string.Empty, () => OfChosen(desk, stem => stem.NextPolarity(), parallel => parallel.TurnOver()), "invert phase");
        list.Add("stem-remove", Group, "Take the stem, or the chosen parallel, out of the song", "Ctrl+Delete", () => RemoveChosen(desk), "delete remove");
        list.Add("gain-up", Group, "Stem, or the chosen parallel, half a decibel up", "Shift+Up", () => OfChosen(desk, stem => stem.Gain.Step(1), parallel => parallel.Blend.Step(1)), "louder level gain blend");
        list.Add("gain-down", Group, "Stem, or the chosen parallel, half a decibel down", "Shift+Down", () => OfChosen(desk, stem => stem.Gain.Step(-1), parallel => parallel.Blend.Step(-1)), "softer level gain blend");
    }

    private static void AddChain(CommandList list, AlbumDesk desk)
    {
        const string Group = "Chain";
        list.Add("bypass-chain", Group, "Whole chain in or out", "B", desk.Chain.ToggleBypass, "bypass");
        list.Add("bypass", Group, "Processor in or out", "Shift+B", () => desk.Chain.Selected?.ToggleBypass(), "bypass");
        list.Add("processor-back", Group, "Processor before", "Shift+Left", () => SelectProcessor(desk, -1), "previous select");
        list.Add("processor-on", Group, "Next processor", "Shift+Right", () => SelectProcessor(desk, 1), "select");
        list.Add("processor-earlier", Group, "Processor one place earlier", "Alt+Left", () => Move(desk, -1), "order move forward");
        list.Add("processor-later", Group, "Processor one place later", "Alt+Right", () => Move(desk, 1), "order move back");
        list.Add("remove", Group, "Remove the processor", "Delete", () => desk.Chain.Selected?.Remove(), "delete take out");
        list.Add("reset", Group, "Every parameter of the processor to its default", string.Empty, () => desk.Chain.Selected?.Reset(), "default");
        foreach (ProcessorDescription kind in desk.Catalogue.Descriptions.Where(kind => !desk.Catalogue.IsOfOthers(kind.Id)))
        {
            list.Add($"add-{kind.Id}", Group, $"Add {kind.Name}", string.Empty, () => desk.Chain.Add(kind.Id), kind.Purpose);
        }

        FollowProcessors(list, desk);
    }

    /// <summary>Processors of others come and go while the desk is open: those that are here can be added, by names that are nobody else's.</summary>
    public static void FollowProcessors(CommandList list, AlbumDesk desk)
    {
        list.RemoveAll(command => command.Id.StartsWith(OfOthers, StringComparison.Ordinal));
        foreach (ProcessorDescription kind in desk.Catalogue.Descriptions.Where(kind => desk.Catalogue.IsOfOthers(kind.Id)))
        {
            list.Add($"{OfOthers}{kind.Id}", "Chain", $"Add {kind.Name}", string.Empty, () => desk.Chain.Add(kind.Id), kind.Purpose);
        }
    }

    private static void AddAlbum(CommandList list, AlbumDesk desk)
    {
        const string Group = "Album";
        list.Add("undo", Group, "Undo", "Ctrl+Z", () => Tell(desk, "undone", desk.Undo()), "take back");
        list.Add("redo", Group, "Redo", "Ctrl+Y|Ctrl+Shift+Z", () => Tell(desk, "done again", desk.Redo()), "again");
        list.Add("check", Group, "Check what arrived", string.Empty, () => _ = desk.Work.Check(), "intake faults");
        list.Add("find", Group, "Search the song for trouble", string.Empty, () => _ = desk.Finding.Search(), "harsh resonance sibilance rumble hum");
        list.Add("masking", Group, "Who covers whom in the song", string.Empty, () => _ = desk.Finding.Map(), "masking map");
        list.Add("account", Group, "Headroom account of the song", string.Empty, () => _ = desk.Work.Account(), "limiter loudness");
        list.Add("target", Group, "Set the limiter to the target", string.Empty, () => _ = desk.Work.MeetTarget(), "loudness lufs");
        list.Add("target-all", Group, "Set the limiters of all songs to their targets", string.Empty, () => _ = desk.Targets.MeetAll(), "loudness lufs");
        list.Add("call-off", Group, "Call off what is at work", "Shift+U", desk.Jobs.CallOff, "cancel stop abort job");
        list.Add("save", Group, "Save now", "Ctrl+S", desk.Save);
    }

    private static string? RemoveChosen(AlbumDesk desk) => OfChosen(desk, stem => stem.Remove(), parallel => parallel.Remove());

    // What is chosen is one of the two, or the song bus, which has none of this.
    private static string? OfChosen(AlbumDesk desk, Func<StemRow, string?> ofStem, Func<ParallelRow, string?> ofParallel) =>
        desk.SelectedStem is not { } stem ? OnlyTheBus
        : desk.Selection.Parallel >= 0 ? ofParallel(stem.Parallels[desk.Selection.Parallel])
        : ofStem(stem);

    // A parallel is heard with its stem.
    private static string? Solo(AlbumDesk desk, bool alone)
    {
        desk.SelectedStem?.ToggleSolo(alone);
        return desk.SelectedStem is null ? OnlyTheBus : null;
    }

    private static void Tell(AlbumDesk desk, string what, string? words)
    {
        if (words is not null)
        {
            desk.Say(MessageKind.Remark, $"{what}: {words}");
        }
    }

    private static void ChangeSafety(AlbumDesk desk, double decibels)
    {
        desk.Monitor.ChangeSafety(decibels);
        desk.Say(MessageKind.Remark, FormattableString.Invariant($"the safety limiter holds {desk.Monitor.Settings.SafetyCeilingDbfs:0} dBFS").Replace('-', '−'));
    }

    private static string WordsOf(CompareKind kind) => kind switch
    {
        CompareKind.AllStems => "all stems",
        CompareKind.SongChain => "the song chain",
        CompareKind.RoughMix => "the rough mix",
        _ => $"the selected {kind.ToString().ToLowerInvariant()}",
    };

    private static void SelectProcessor(AlbumDesk desk, int step)
    {
        IReadOnlyList<ProcessorModel> processors = desk.Chain.Processors;
        if (processors.Count > 0)
        {
            int now = desk.Chain.Selected?.Index ?? (step > 0 ? -1 : processors.Count);
            processors[Math.Clamp(now + step, 0, processors.Count - 1)].Select();
        }
    }

    private static string? Move(AlbumDesk desk, int step) =>
        desk.Chain.Selected is { } processor ? processor.MoveTo(processor.Index + step) : null;
}
