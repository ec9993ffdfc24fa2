namespace LiveStems.View.Controls;

/// <summary>
/// A value with its unit: drag up and down, finer with shift held, turn the wheel, type after enter, reset by a double
/// click or delete; switches and choices go on by a click.
/// </summary>
internal sealed class ValueBox : Control
{
    private const float TravelUnits = 240;
    private const float FineShare = 0.1f;
    private const float DragStart = 3;
    private const float NameShare = 0.5f;
    private const float LowUnits = 20;

    private readonly IValueModel value;
    private readonly TextLine line = new();
    private bool isDragging;
    private bool wasReset;
    private double travel;
    private float lastY;
    private float pressedY;
    private float notchRest;

    public ValueBox(IValueModel value)
    {
        this.value = value;
        Tip = value.Description;
    }

    /// <summary>True to leave the name out and use the whole width for the value.</summary>
    public bool IsNameless { get; init; }

    public IValueModel Value => value;

    public bool IsTyping { get; private set; }

    /// <summary>Why the typed text was refused; null when it was not.</summary>
    public string? Fault { get; private set; }

    public override bool CanFocus => true;

    public override bool TakesText => IsTyping;

    public override PointerShape PointerShape => IsTyping ? PointerShape.Text : value.IsStepped ? PointerShape.Hand : PointerShape.UpDown;

    private Box Field => IsNameless ? Bounds : Box.Between(Bounds.X + Bounds.Width * NameShare, Bounds.Y, Bounds.Right, Bounds.Bottom);

    public override Extent Measure(ITextRuler ruler) => new(120, 21);

    public override void Draw(Painter painter)
    {
        float alpha = IsEnabled ? 1 : 0.5f;
        Box field = Field;
        if (!IsNameless)
        {
            painter.Text(value.Name, new(Bounds.X, Bounds.Y, field.X - Bounds.X - 6, Bounds.Height), Tone.Quiet, alpha: alpha);
        }

        painter.Fill(field, IsTyping ? Tone.Well : IsHovered || isDragging ? Tone.Lifted : Tone.Raised, radius: 3);
        if (IsTyping)
        {
            line.Draw(painter, field.Inset(6, 0), Fault is null ? Tone.Text : Tone.Alarm);
        }
        else
        {
            DrawValue(painter, field, alpha);
        }

        if (HasFocus)
        {
            painter.Frame(field, Fault is null ? Tone.Focus : Tone.Alarm, 1.5f, 3);
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (pointer.Button != PointerButton.Left)
        {
            return false;
        }

        wasReset = pointer.Clicks == 2 && !value.IsStepped;
        if (wasReset)
        {
            StopTyping();
            value.Reset();
        }

        travel = value.Travel;
        lastY = pressedY = pointer.Y;
        isDragging = false;
        return true;
    }

    public override void Drag(in PointerEvent pointer)
    {
        if (value.IsStepped || wasReset || (!isDragging && Math.Abs(pointer.Y - pressedY) < DragStart))
        {
            return;
        }

        isDragging = true;
        float rate = pointer.Modifiers.HasFlag(Modifiers.Shift) ? FineShare : 1;
        travel = Math.Clamp(travel + (lastY - pointer.Y) / TravelUnits * rate, 0, 1);
        lastY = pointer.Y;
        value.Drag(travel);
        Redraw();
    }

    public override void Release(in PointerEvent pointer)
    {
        if (isDragging)
        {
            isDragging = false;
            value.EndDrag();
        }
        else if (value.IsStepped && Bounds.Contains(pointer.X, pointer.Y))
        {
            value.Next();
        }

        Redraw();
    }

    public override bool Wheel(in PointerEvent pointer, float notches)
    {
        // Only a value that has the keyboard is turned, so that scrolling a long list changes nothing on the way.
        if (!HasFocus)
        {
            return false;
        }

        notchRest += notches;
        int whole = (int)notchRest;
        notchRest -= whole;
        if (whole != 0)
        {
            value.Step(whole, pointer.Modifiers.HasFlag(Modifiers.Shift));
            Redraw();
        }

        return true;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (IsTyping)
        {
            return TypingKey(key, modifiers);
        }

        bool isFine = modifiers == Modifiers.Shift;
        if (modifiers != Modifiers.None && !isFine)
        {
            return false;
        }

        switch (key)
        {
            case Key.Up or Key.Down:
                value.Step(key == Key.Up ? 1 : -1, isFine);
                break;
            case Key.Delete or Key.Backspace:
                value.Reset();
                break;
            case Key.Enter or Key.PadEnter when value.IsStepped:
                value.Next();
                break;
            case Key.Enter or Key.PadEnter:
                StartTyping(value.Text);
                break;
            case Key.Minus or Key.Period or (>= Key.D0 and <= Key.D9) when !isFine && !value.IsStepped:
                StartTyping(key switch { Key.Minus => "-", Key.Period => ".", _ => ((char)key).ToString() });
                line.Collapse();
                break;
            default:
                return false;
        }

        Redraw();
        return true;
    }

    public override bool Type(string text)
    {
        if (!IsTyping)
        {
            return false;
        }

        line.Insert(text);
        Fault = null;
        Redraw();
        return true;
    }

    public override bool Settle()
    {
        if (IsTyping)
        {
            Take();
        }

        return !IsTyping;
    }

    public override void Removed() => StopTyping();

    public override void StateChanged()
    {
        if (IsTyping && !HasFocus)
        {
            Fault = value.SetText(line.Text);
            StopTyping();
        }

        if (HasFocus)
        {
            for (Control? around = Parent; around is not null; around = around.Parent)
            {
                (around as Scroll)?.Reveal(Bounds);
            }
        }

        Redraw();
    }

    private void DrawValue(Painter painter, in Box field, float alpha)
    {
        // The travel from the default is what a glance looks for: how far, and which way.
        float now = (float)value.Travel;
        float from = (float)value.DefaultTravel;
        if (!value.IsStepped && now != from)
        {
            float left = field.X + 3 + (field.Width - 6) * Math.Min(now, from);
            float right = field.X + 3 + (field.Width - 6) * Math.Max(now, from);
            // In a low box the line keeps clear of the figures.
            float thickness = field.Height < LowUnits ? 1 : 1.5f;
            painter.Line(left, field.Bottom - thickness / 2, Math.Max(right, left + 1.5f), field.Bottom - thickness / 2, Tone.Output, thickness, alpha);
        }

        painter.Text(value.Text, field.Inset(6, 0), now == from ? Tone.Quiet : Tone.Text, side: Side.Right, alpha: alpha);
    }

    private bool TypingKey(Key key, Modifiers modifiers)
    {
        if (key is Key.Enter or Key.PadEnter)
        {
            Take();
        }
        else if (key == Key.Z && modifiers == Modifiers.Control)
        {
            // What is typed is no step yet: it is what is taken back.
            StopTyping();
        }
        else if (key is Key.Up or Key.Down)
        {
            // Between figures there is nothing above and below; what stands beside shall not move meanwhile.
            return true;
        }
        else if (key == Key.Escape)
        {
            StopTyping();
        }
        else if (!line.KeyDown(key, modifiers, Host))
        {
            return false;
        }

        Redraw();
        return true;
    }

    private void Take()
    {
        Fault = value.SetText(line.Text);
        if (Fault is null)
        {
            StopTyping();
        }

        Redraw();
    }

    private void StartTyping(string text)
    {
        IsTyping = true;
        Fault = null;
        line.Start(text);
    }

    private void StopTyping()
    {
        IsTyping = false;
        Fault = null;
        Redraw();
    }
}
