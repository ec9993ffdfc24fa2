namespace LiveStems.View.Controls;

/// <summary>
/// Hands keys and letters to the control that has the keyboard, then to those around it, then to the commands; Tab goes on
/// to the next control, Escape closes or lets go.
/// </summary>
/// <param name="host">The controls.</param>
/// <param name="keys">What the keys do.</param>
internal sealed class KeyRouter(ControlHost host, IKeyCommands keys)
{
    private bool swallowsText;
    private bool isRepeating;

    /// <summary>The control that has the keyboard.</summary>
    public Control? Focus { get; private set; }

    public void SetFocus(Control? control)
    {
        Control? before = Focus;
        if (before == control)
        {
            return;
        }

        Focus = control;
        before?.StateChanged();
        control?.StateChanged();
    }

    /// <summary>The keyboard goes on to the next control that takes it, or the one before.</summary>
    public void MoveFocus(int step)
    {
        Control[] all = [.. host.Reach.Everything().Where(each => each.CanFocus && each.IsEnabled)];
        if (all.Length > 0)
        {
            int now = Focus is null ? (step > 0 ? -1 : all.Length) : Array.IndexOf(all, Focus);
            SetFocus(all[((now + step) % all.Length + all.Length) % all.Length]);
        }
    }

    public void Press(Key key, Modifiers modifiers, bool isRepeat)
    {
        isRepeating = isRepeat;
        swallowsText = false;
        foreach (Control control in ControlHost.Ancestry(Focus ?? host.Reach))
        {
            if (control.KeyDown(key, modifiers))
            {
                // What the key has done may have put something in place that would take its letter.
                swallowsText = KeyNames.Types(key, modifiers);
                return;
            }
        }

        if (host.Overlays.Count > 0 && key == Key.Escape)
        {
            host.Close(host.Overlays[^1]);
        }
        else if (key == Key.Escape && Focus is not null)
        {
            // The keys are commands again.
            SetFocus(null);
        }
        else if (key == Key.Tab && (modifiers & ~Modifiers.Shift) == 0)
        {
            MoveFocus(modifiers.HasFlag(Modifiers.Shift) ? -1 : 1);
        }
        else if (host.Overlays.Count == 0 && (key == Key.Space ? Focus?.TakesText != true : !KeyNames.Types(key, modifiers)) && Focus?.Settle() != false)
        {
            keys.Press(KeyNames.Of(key), modifiers, isRepeat);
        }
    }

    /// <summary>A character: for who types, or else a command, so that commands follow the letters printed on the keys.</summary>
    public void Type(string text, Modifiers held)
    {
        bool isTaken = swallowsText || Focus?.Type(text) == true || Focus?.TakesText == true;
        swallowsText = false;
        if (!isTaken && host.Overlays.Count == 0 && text != " ")
        {
            bool isLetter = text.Length == 1 && char.IsLetter(text[0]);
            keys.Press(text.ToUpperInvariant(), isLetter ? held & Modifiers.Shift : Modifiers.None, isRepeating);
        }
    }

    /// <summary>A control has left the window.</summary>
    public void Forget(Control control)
    {
        if (Focus is { } gone && gone.IsInside(control))
        {
            Focus = null;
            gone.Removed();
        }
    }
}
