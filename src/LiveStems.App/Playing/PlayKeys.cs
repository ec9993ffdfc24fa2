namespace LiveStems.App.Playing;

/// <summary>The keys of the terminal player: one table for what they do and for the help that lists them.</summary>
internal sealed class PlayKeys
{
    private const double JumpSeconds = 5;

    private readonly PlayControls controls;
    private readonly Engine.Live.LivePlayer player;
    private readonly List<(string Name, Func<ConsoleKeyInfo, bool> Fits, string Does, Action Do)> table;

    public PlayKeys(PlayControls controls, Engine.Live.LivePlayer player)
    {
        this.controls = controls;
        this.player = player;
        table =
        [
            ("space", key => key.Key == ConsoleKey.Spacebar, "play or stop", TogglePlaying),
            ("left, right", key => key.Key == ConsoleKey.LeftArrow, "5 s back, 5 s on", () => controls.Jump(Position - JumpSeconds)),
            (string.Empty, key => key.Key == ConsoleKey.RightArrow, string.Empty, () => controls.Jump(Position + JumpSeconds)),
            ("home", key => key.Key == ConsoleKey.Home, "to the start", () => controls.Jump(0)),
            ("i, o, l", key => key.KeyChar == 'i', "loop in, loop out, no loop", () => controls.SetLoopIn(Position)),
            (string.Empty, key => key.KeyChar == 'o', string.Empty, () => controls.SetLoopOut(Position)),
            (string.Empty, key => key.KeyChar == 'l', string.Empty, () => controls.ClearLoop(Position)),
            ("up, down", key => key.Key == ConsoleKey.UpArrow, "previous stem, next stem", () => controls.ChooseStem(-1)),
            (string.Empty, key => key.Key == ConsoleKey.DownArrow, string.Empty, () => controls.ChooseStem(1)),
            ("page up, page down", key => key.Key == ConsoleKey.PageUp, "previous song, next song", () => controls.ChooseSong(-1)),
            (string.Empty, key => key.Key == ConsoleKey.PageDown, string.Empty, () => controls.ChooseSong(1)),
            ("s, m, b", key => key.KeyChar == 's', "solo, mute, bypass the chain of the stem", controls.ToggleSolo),
            (string.Empty, key => key.KeyChar == 'm', string.Empty, controls.ToggleMute),
            (string.Empty, key => key.KeyChar == 'b', string.Empty, controls.ToggleChain),
            ("c", key => key.KeyChar == 'c', "compare: all chains out, all in", controls.ToggleAllChains),
            ("f", key => key.KeyChar == 'f', "band-listen", controls.ToggleBand),
            ("z, x", key => key.KeyChar == 'z', "band down, band up", () => controls.MoveBand(-1)),
            (string.Empty, key => key.KeyChar == 'x', string.Empty, () => controls.MoveBand(1)),
            ("n, w", key => key.KeyChar == 'n', "band narrower, wider", () => controls.WidenBand(0.8)),
            (string.Empty, key => key.KeyChar == 'w', string.Empty, () => controls.WidenBand(1.25)),
            ("h, y", key => key.KeyChar == 'h', "hear stereo, mono or side; swap left and right", controls.NextChannels),
            (string.Empty, key => key.KeyChar == 'y', string.Empty, () => controls.ChangeMonitor(monitor => monitor with { IsSwapped = !monitor.IsSwapped })),
            ("t", key => key.KeyChar == 't', "tone, pink noise, music: to set the level by", controls.NextSignal),
            ("d", key => key.KeyChar == 'd', "dim", () => controls.ChangeMonitor(monitor => monitor with { IsDimmed = !monitor.IsDimmed })),
            ("-, +", key => key.KeyChar == '-', "monitor level", () => controls.ChangeLevel(-1)),
            (string.Empty, key => key.KeyChar is '+' or '=', string.Empty, () => controls.ChangeLevel(1)),
            ("q", key => key.KeyChar == 'q' || key.Key == ConsoleKey.Escape, "quit", () => WantsToQuit = true),
        ];
    }

    /// <summary>True once quitting was asked for.</summary>
    public bool WantsToQuit { get; private set; }

    private double Position => player.Look().PositionSeconds;

    /// <summary>The keys in one line each.</summary>
    public IEnumerable<string> Help() => table.Where(entry => entry.Name.Length > 0).Select(entry => $"{entry.Name}: {entry.Does}");

    /// <summary>Does what a key stands for; false when it stands for nothing.</summary>
    public bool Press(ConsoleKeyInfo key)
    {
        int index = table.FindIndex(entry => entry.Fits(key));
        if (index >= 0)
        {
            table[index].Do();
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
