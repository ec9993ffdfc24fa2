namespace LiveStems.View.Controls;

/// <summary>Hands what the pointer does to the controls under it: who is pressed follows it until it is released.</summary>
/// <param name="host">The controls.</param>
internal sealed class PointerRouter(ControlHost host)
{
    private const double DoubleClickSeconds = 0.4;
    private const float DoubleClickUnits = 5;

    private PointerButton pressedButton;
    private (double At, float X, float Y, int Clicks) lastPress = (-10, 0, 0, 0);

    /// <summary>The control under the pointer.</summary>
    public Control? Hovered { get; private set; }

    /// <summary>Where the pointer is, in logical units.</summary>
    public (float X, float Y) At { get; private set; } = (-1, -1);

    /// <summary>The control that follows the pressed pointer, or null.</summary>
    public Control? Pressed { get; private set; }

    /// <summary>True while a control follows the pressed pointer.</summary>
    public bool IsPressed => Pressed is not null;

    public void Move(float x, float y, Modifiers held)
    {
        At = (x, y);
        PointerEvent moved = Event(pressedButton, held, 0);
        if (Pressed is not null)
        {
            Pressed.Drag(moved);
            return;
        }

        SetHovered(host.Reach.At(x, y));
        Hovered?.Hover(moved);
    }

    public void Leave()
    {
        if (Pressed is null)
        {
            At = (-1, -1);
            SetHovered(null);
        }
    }

    public void Press(PointerButton button, Modifiers held, double now)
    {
        bool isAgain = now - lastPress.At < DoubleClickSeconds
            && Math.Abs(At.X - lastPress.X) + Math.Abs(At.Y - lastPress.Y) < DoubleClickUnits;
        lastPress = (now, At.X, At.Y, isAgain ? lastPress.Clicks % 2 + 1 : 1);
        if (Pressed is not null)
        {
            return;
        }

        pressedButton = button;
        PointerEvent pointer = Event(button, held, lastPress.Clicks);
        Control? under = host.Reach.At(At.X, At.Y);
        host.SetFocus(ControlHost.Ancestry(under).FirstOrDefault(each => each.TakesFocusAt(At.X, At.Y)));
        foreach (Control control in ControlHost.Ancestry(under))
        {
            if (control.IsEnabled && control.Press(pointer))
            {
                Pressed = control.Host is null ? null : control;
                break;
            }
        }
    }

    public void Release(PointerButton button, Modifiers held)
    {
        if (Pressed is null || button != pressedButton)
        {
            return;
        }

        Drop(held);
        SetHovered(host.Reach.At(At.X, At.Y));
    }

    /// <summary>Releases whatever is pressed: the window has lost the pointer.</summary>
    public void Drop(Modifiers held)
    {
        if (Pressed is { } released)
        {
            Pressed = null;
            released.Release(Event(pressedButton, held, 1));
        }
    }

    public void Turn(float right, float up, Modifiers held)
    {
        PointerEvent pointer = Event(PointerButton.Middle, held, 0);
        foreach (Control control in ControlHost.Ancestry(host.Reach.At(At.X, At.Y)))
        {
            if (control.IsEnabled && control.Wheel(pointer, up != 0 ? up : right))
            {
                return;
            }
        }
    }

    /// <summary>A control has left the window.</summary>
    public void Forget(Control control)
    {
        if (Pressed?.IsInside(control) == true)
        {
            Pressed = null;
        }

        if (Hovered?.IsInside(control) == true)
        {
            Hovered = null;
        }
    }

    private PointerEvent Event(PointerButton button, Modifiers held, int clicks) => new(At.X, At.Y, button, held, clicks);

    private void SetHovered(Control? control)
    {
        if (Hovered != control)
        {
            Control? before = Hovered;
            Hovered = control;
            before?.StateChanged();
            control?.StateChanged();
        }
    }
}
