namespace LiveStems.View.Controls;

/// <summary>A part of the window that is laid out, drawn, and may take the pointer and the keyboard.</summary>
internal abstract class Control
{
    private readonly List<Control> children = [];
    private bool isVisible = true;

    /// <summary>Where it stands; set by the control around it.</summary>
    public Box Bounds { get; private set; }

    public Control? Parent { get; private set; }

    public IReadOnlyList<Control> Children => children;

    /// <summary>A sentence that teaches what this is for; shown when the pointer rests on it.</summary>
    public string Tip { get; set; } = string.Empty;

    /// <summary>False to take no place and no part.</summary>
    public bool IsVisible
    {
        get => isVisible;
        set
        {
            if (isVisible != value)
            {
                isVisible = value;
                Host?.MarkLayout();
            }
        }
    }

    /// <summary>False while it does not answer; drawn faded.</summary>
    public bool IsEnabled { get; set; } = true;

    /// <summary>True when the keyboard can be on it.</summary>
    public virtual bool CanFocus => false;

    /// <summary>True when a press at a place gives it the keyboard.</summary>
    public virtual bool TakesFocusAt(float x, float y) => CanFocus && IsEnabled;

    /// <summary>True when what it contains must not be drawn outside of it.</summary>
    public virtual bool ClipsChildren => false;

    /// <summary>The look of the pointer over it.</summary>
    public virtual PointerShape PointerShape => PointerShape.Arrow;

    /// <summary>Who hands out events and collects what is to be drawn; null outside of a window.</summary>
    public ControlHost? Host => Parent is null ? OwnHost : Parent.Host;

    public bool HasFocus => Host?.Focus == this;

    public bool IsHovered => Host?.Hovered == this;

    /// <summary>The host of the outermost control.</summary>
    internal ControlHost? OwnHost { get; set; }

    /// <summary>How much place it likes to have.</summary>
    public virtual Extent Measure(ITextRuler ruler) => new(0, 0);

    /// <summary>Takes its place and gives their places to its children.</summary>
    public void Arrange(in Box bounds, ITextRuler ruler)
    {
        Bounds = bounds;
        ArrangeChildren(ruler);
    }

    /// <summary>Draws itself, without its children.</summary>
    public virtual void Draw(Painter painter)
    {
    }

    /// <summary>Draws what stands above its children.</summary>
    public virtual void DrawOver(Painter painter)
    {
    }

    /// <summary>The pointer was pressed on it; true to follow the pointer until it is released.</summary>
    public virtual bool Press(in PointerEvent pointer) => false;

    /// <summary>The pointer moved while pressed.</summary>
    public virtual void Drag(in PointerEvent pointer)
    {
    }

    /// <summary>The pointer moved over it, not pressed.</summary>
    public virtual void Hover(in PointerEvent pointer)
    {
    }

    /// <summary>The pointer was released after a press that it follows.</summary>
    public virtual void Release(in PointerEvent pointer)
    {
    }

    /// <summary>The wheel was turned over it, in notches, up positive; true when it took it.</summary>
    public virtual bool Wheel(in PointerEvent pointer, float notches) => false;

    /// <summary>A key while it has the keyboard, or something inside it has and did not take it; true when it took it.</summary>
    public virtual bool KeyDown(Key key, Modifiers modifiers) => false;

    /// <summary>Text while it has the keyboard; true when it took it.</summary>
    public virtual bool Type(string text) => false;

    /// <summary>True while it takes plain letters, so that they are no commands.</summary>
    public virtual bool TakesText => false;

    /// <summary>It has the keyboard, and a command is about to run: takes what is half done in it; false to hold the command back.</summary>
    public virtual bool Settle() => true;

    /// <summary>It got or lost the keyboard or the pointer.</summary>
    public virtual void StateChanged() => Redraw();

    /// <summary>It had the keyboard and is taken out of the window: what is half done in it has lost its object.</summary>
    public virtual void Removed()
    {
    }

    /// <summary>Asks to be drawn again.</summary>
    public void Redraw() => Host?.MarkDirty(Bounds);

    public T Add<T>(T child)
        where T : Control
    {
        child.Parent = this;
        children.Add(child);
        Host?.MarkLayout();
        return child;
    }

    /// <summary>Puts a child behind all others in the order of the keyboard and of drawing; it stays as it is.</summary>
    public void BringLast(Control child)
    {
        if (children.Remove(child))
        {
            children.Add(child);
        }
    }

    public void Remove(Control child)
    {
        if (children.Remove(child))
        {
            Host?.Forget(child);
            child.Parent = null;
            Host?.MarkLayout();
        }
    }

    public void Clear()
    {
        foreach (Control child in children)
        {
            Host?.Forget(child);
            child.Parent = null;
        }

        children.Clear();
        Host?.MarkLayout();
    }

    public bool IsInside(Control other)
    {
        for (Control? control = this; control is not null; control = control.Parent)
        {
            if (control == other)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The innermost visible control at a place, or null.</summary>
    public virtual Control? At(float x, float y)
    {
        if (!IsVisible || !Bounds.Contains(x, y))
        {
            return null;
        }

        for (int i = children.Count - 1; i >= 0; i--)
        {
            if (children[i].At(x, y) is { } inner)
            {
                return inner;
            }
        }

        return this;
    }

    /// <summary>It and everything visible inside it, in the order of the keyboard.</summary>
    public IEnumerable<Control> Everything()
    {
        if (!IsVisible)
        {
            yield break;
        }

        yield return this;
        foreach (Control inner in children.SelectMany(child => child.Everything()))
        {
            yield return inner;
        }
    }

    /// <summary>Gives the children their places; all the same place unless said otherwise.</summary>
    protected virtual void ArrangeChildren(ITextRuler ruler)
    {
        foreach (Control child in children)
        {
            child.Arrange(Bounds, ruler);
        }
    }
}
