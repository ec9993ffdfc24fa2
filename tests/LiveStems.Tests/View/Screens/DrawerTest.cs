using LiveStems.Albums.Model;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

/// <summary>The window of a small album, without a window, with hands for its drawer.</summary>
public abstract class DrawerTest : IDisposable
{
    private double seconds;

    protected DrawerTest()
    {
        Desk = Album.Open();
        Screen = new MainScreen(Desk, WindowState.AtFirst);
        Host = new ControlHost(Screen.Root, Screen, new FixedRuler(), () => seconds);
        Screen.Attach(Host);
        Host.SetSize(1280, 800, 1);
        Frame();
    }

    private protected DeskAlbum Album { get; } = new();

    private protected AlbumDesk Desk { get; }

    private protected MainScreen Screen { get; }

    private protected ControlHost Host { get; }

    private protected Drawer Drawer => Screen.Drawer;

    public void Dispose()
    {
        Desk.Dispose();
        Album.Dispose();
        DisposeMore();
        GC.SuppressFinalize(this);
    }

    /// <summary>What a test has beside the album, once the desk is closed.</summary>
    protected virtual void DisposeMore()
    {
    }

    protected void Type(string key)
    {
        if (Enum.TryParse(key, out Key named) && key.Length > 1)
        {
            Host.KeyPressed(named, Modifiers.None, false);
        }
        else
        {
            Host.TextTyped(key);
        }

        Frame();
    }

    private protected TextEntry Entry => Drawer.Everything().OfType<TextEntry>().Single();

    protected void ChooseFirst()
    {
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.Home, Modifiers.None, false);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Frame();
    }

    protected void Enter(string text)
    {
        TextEntry entry = Entry;
        Host.SetFocus(entry);
        entry.Start(text);
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Host.SetFocus(null);
        Frame();
    }

    protected void Press(string words)
    {
        int index = Drawer.Page.Buttons.ToList().FindIndex(button => button.Words() == words);
        Assert.True(index >= 0, words);
        TextButton button = Drawer.Everything().OfType<TextButton>().ElementAt(index);
        Host.SetFocus(button);
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Frame();
    }

    protected void Frame()
    {
        seconds += 0.2;
        Screen.Update(0.2);
        Host.Layout();
    }

    // Work in the background takes its time on a busy machine.
    protected void Wait(Func<bool> holds)
    {
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                Frame();
                Thread.Sleep(2);
                return holds();
            },
            TimeSpan.FromSeconds(120)));
        Frame();
    }
}
