using LiveStems.View.Controls;

namespace LiveStems.Tests.View.Controls;

/// <summary>Controls in a host of 400 by 300 units without a window, with a clock of its own and a list of the keys nobody took.</summary>
internal sealed class TestHost : IKeyCommands
{
    public TestHost(Control root)
    {
        Host = new ControlHost(root, this, new FixedRuler(), () => Seconds);
        Host.SetSize(400, 300, 1);
        Host.Layout();
    }

    public ControlHost Host { get; }

    public double Seconds { get; set; } = 100;

    public List<string> Commands { get; } = [];

    public bool Press(string key, Modifiers modifiers, bool isRepeat)
    {
        Commands.Add($"{(modifiers == Modifiers.None ? string.Empty : $"{modifiers}+")}{key}");
        return true;
    }

    public void Click(Control control, PointerButton button = PointerButton.Left)
    {
        Host.PointerMoved(control.Bounds.CentreX, control.Bounds.CentreY);
        Host.ButtonPressed(button, Modifiers.None);
        Host.ButtonReleased(button, Modifiers.None);
        Host.Layout();
    }

    /// <summary>A key as a keyboard sends it: the key, and the character it types.</summary>
    public void Type(Key key, string? text = null, Modifiers modifiers = Modifiers.None)
    {
        Host.KeyPressed(key, modifiers, false);
        if (text is not null)
        {
            Host.TextTyped(text);
        }

        Host.KeyReleased(key, Modifiers.None);
        Host.Layout();
    }
}
