using LiveStems.View.Controls;

namespace LiveStems.View.Screens;

/// <summary>Random hands on a window: what no person would do, to see that it stands it. The same seed does the same.</summary>
internal sealed class RandomPointer(int seed)
{
    private static readonly Key[] Named =
    [
        Key.Space, Key.Escape, Key.Enter, Key.Tab, Key.Delete, Key.Left, Key.Right, Key.Up, Key.Down, Key.Home, Key.End, Key.PageUp, Key.PageDown,
    ];

    private readonly Random random = new(seed);

    /// <summary>Does one thing in a window of a size in pixels.</summary>
    public void Act(ControlHost host, int width, int height)
    {
        Modifiers held = (Modifiers)random.Next(8) & (Modifiers)random.Next(8);
        switch (random.Next(7))
        {
            case 0 or 1:
                host.PointerMoved(random.Next(width), random.Next(height));
                break;
            case 2:
                host.ButtonPressed((PointerButton)random.Next(3), held);
                break;
            case 3:
                host.ButtonReleased((PointerButton)random.Next(3), held);
                break;
            case 4:
                host.WheelTurned(0, random.Next(-3, 4));
                break;
            case 5:
                Key key = Named[random.Next(Named.Length)];
                host.KeyPressed(key, held, random.Next(4) == 0);
                host.KeyReleased(key, held);
                break;
            default:
                host.TextTyped(((char)random.Next(33, 127)).ToString());
                break;
        }
    }
}
