namespace LiveStems.App.Playing;

/// <summary>The keys of the terminal player: one table for what they do and for the help that lists them.</summary>
internal sealed class PlayKeys
{
    private const double JumpSeconds = 5;
    private const double GainStepDb = 0.5;
    private const double PanStep = 0.1;
    private const double SafetyStepDb = 1;

    private readonly PlayControls controls;
    private readonly Engine.Live.LivePlayer player;
    private readonly List<(string Name, Func<ConsoleKeyInfo, bool> Fits, string Does, Action<ConsoleKeyInfo> Do)> table;

    public PlayKeys(PlayControls controls, Engine.Live.LivePlayer player)
    {
        this.controls = controls;
        this.player = player;
        table =
        [
            ("space", key => key.Key == ConsoleKey.Spacebar, "play or stop", _ => TogglePlaying()),
            ("left, right", key => key.Key == ConsoleKey.LeftArrow, "5 s back, 5 s on", _ => controls.Jump(Position - JumpSeconds)),
            (string.Empty, key => key.Key == ConsoleKey.RightArrow, string.Empty, _ => controls.Jump(Position + JumpSeconds)),
            ("home", key => key.Key == ConsoleKey.Home, "to the start", _ => controls.Jump(0)),
            (", .", key => key.KeyChar == ',', "previous marker, next marker", _ => controls.JumpToMarker(-1, Position)),
            (string.Empty, key => key.KeyChar == '.', string.Empty, _ => controls.JumpToMarker(1, Position)),
            ("k, K", key => key.KeyChar == 'k', "set a marker here, take the marker here away", _ => controls.SetMarker(Position)),
            (string.Empty, key => key.KeyChar == 'K', string.Empty, _ => controls.RemoveMarker(Position)),
            ("i, o, l", key => key.KeyChar == 'i', "loop in, loop out, no loop", _ => controls.SetLoopIn(Position)),
            (string.Empty, key => key.KeyChar == 'o', string.Empty, _ => controls.SetLoopOut(Position)),
            (string.Empty, key => key.KeyChar == 'l', string.Empty, _ => controls.ClearLoop()),
            ("up, down", key => key.Key == ConsoleKey.UpArrow, "previous stem, next stem", _ => controls.ChooseStem(-1)),
            (string.Empty, key => key.Key == ConsoleKey.DownArrow, string.Empty, _ => controls.ChooseStem(1)),
            ("page up, page down", key => key.Key == ConsoleKey.PageUp, "previous song, next song", _ => controls.ChooseSong(-1)),
            (string.Empty, key => key.Key == ConsoleKey.PageDown, string.Empty, _ => controls.ChooseSong(1)),
            ("a", key => key.KeyChar == 'a', "play on through the album, or not", _ => controls.PlayWholeAlbum(!controls.IsWholeAlbum)),
            ("s, m, b", key => key.KeyChar == 's', "solo, mute, bypass the chain of the stem", _ => controls.ToggleSolo()),
            (string.Empty, key => key.KeyChar == 'm', string.Empty, _ => controls.ToggleMute()),
            (string.Empty, key => key.KeyChar == 'b', string.Empty, _ => controls.Chains.ToggleStem()),
            ("U, A", key => key.KeyChar == 'U', "bypass the song chain, all chains at once", _ => controls.Chains.ToggleSong()),
            (string.Empty, key => key.KeyChar == 'A', string.Empty, _ => controls.Chains.ToggleAll()),
            ("1 to 9", key => key.KeyChar is >= '1' and <= '9', "bypass a processor of the stem's chain", key => controls.Chains.ToggleProcessor(key.KeyChar - '1')),
            ("[ ]", key => key.KeyChar == '[', "gain of the stem down, up", _ => controls.ChangeGain(-GainStepDb)),
            (string.Empty, key => key.KeyChar == ']', string.Empty, _ => controls.ChangeGain(GainStepDb)),
            ("{ }", key => key.KeyChar == '{', "pan of the stem to the left, to the right", _ => controls.ChangePan(-PanStep)),
            (string.Empty, key => key.KeyChar == '}', string.Empty, _ => controls.ChangePan(PanStep)),
            ("p", key => key.KeyChar == 'p', "polarity of the stem", _ => controls.TogglePolarity()),
            .. CompareKeys.Table(controls),
            ("f", key => key.KeyChar == 'f', "band-listen", _ => controls.Monitor.ToggleBand()),
            ("z, x", key => key.KeyChar == 'z', "band down, band up", _ => controls.Monitor.MoveBand(-1)),
            (string.Empty, key => key.KeyChar == 'x', string.Empty, _ => controls.Monitor.MoveBand(1)),
            ("n, w", key => key.KeyChar == 'n', "band narrower, wider", _ => controls.Monitor.WidenBand(0.8)),
            (string.Empty, key => key.KeyChar == 'w', string.Empty, _ => controls.Monitor.WidenBand(1.25)),
            ("u", key => key.KeyChar == 'u', "edges of the band: 24 or 48 dB an octave", _ => controls.Monitor.ToggleSlope()),
            ("h, y", key => key.KeyChar == 'h', "hear stereo, mono or side; swap left and right", _ => controls.Monitor.NextChannels()),
            (string.Empty, key => key.KeyChar == 'y', string.Empty, _ => controls.Monitor.ToggleSwap()),
            ("t", key => key.KeyChar == 't', "tone, pink noise, music: to set the level by", _ => controls.Monitor.NextSignal()),
            ("d", key => key.KeyChar == 'd', "dim", _ => controls.Monitor.ToggleDim()),
            ("-, +", key => key.KeyChar == '-', "monitor level", _ => controls.Monitor.ChangeLevel(-1)),
            (string.Empty, key => key.KeyChar is '+' or '=', string.Empty, _ => controls.Monitor.ChangeLevel(1)),
            ("<, >", key => key.KeyChar == '<', "what the safety limiter holds: lower, higher", _ => controls.Monitor.ChangeSafety(-SafetyStepDb)),
            (string.Empty, key => key.KeyChar == '>', string.Empty, _ => controls.Monitor.ChangeSafety(SafetyStepDb)),
            ("q", key => key.KeyChar == 'q' || key.Key == ConsoleKey.Escape, "quit", _ => WantsToQuit = true),
        ];
    }

    /// <summary>True once quitting was asked for.</summary>
    public bool WantsToQuit { get; private set; }

    private double Position => player.Look().PositionSeconds;

    /// <summary>The keys in one line each.</summary>
    public IEnumerable<string> Help() => table.Where(entry => entry.Name.Length > 0).Select(entry => $"{entry.Name}: {entry.Does}");

    /// <summary>Does what a key stands for; false when it stands for nothing. What cannot be done for want of a file is told.</summary>
    public bool Press(ConsoleKeyInfo key)
    {
        if (controls.Blind.IsRunning && (controls.Blind.Press(key) || !CompareKeys.IsHarmless(key)))
        {
            return true;
        }

        int index = table.FindIndex(entry => entry.Fits(key));
        if (index >= 0)
        {
            controls.Try(() => table[index].Do(key));
        }

        return index >= 0;
    }

    private void TogglePlaying()
    {
        if (player.Look().IsPlaying)
        {
            player.Stop();
        }
        else
        {
            player.Play();
        }
    }
}
