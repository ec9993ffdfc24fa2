using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class RandomInputTests
{
    private const int Events = 2500;

    private static readonly Key[] Named =
        [Key.Space, Key.Escape, Key.Enter, Key.Tab, Key.Delete, Key.Left, Key.Right, Key.Up, Key.Down, Key.Home, Key.End, Key.PageUp, Key.PageDown];

    [Fact]
    public void WhateverIsPressedDraggedAndTypedTheScreenGoesOn() => Run(20_260_101);

    [Fact]
    public void AnotherSequenceEveryTimeGoesOnToo()
    {
        int seed = Environment.TickCount;
        Exception? fault = Record.Exception(() => Run(seed));
        Assert.True(fault is null, $"seed {seed}: {fault}");
    }

    private static void Run(int seed)
    {
        Random random = new(seed);
        using DeskAlbum album = new();
        using AlbumDesk desk = album.Open();
        MainScreen screen = new(desk, WindowState.AtFirst);
        double seconds = 0;
        ControlHost host = new(screen.Root, screen, new FixedRuler(), () => seconds);
        screen.Attach(host);
        host.SetSize(1280, 800, 1);
        for (int i = 0; i < Events; i++)
        {
            seconds += 0.02 + random.NextDouble() * 0.3;
            Act(host, random);
            if (i % 5 == 0)
            {
                album.Device.Run(64);
                screen.Update(0.02);
                host.Tick();
                host.Layout();
            }
        }

        // What was done can be taken back to the beginning.
        while (desk.UndoWords is not null)
        {
            Assert.NotNull(desk.Undo());
        }
    }

    private static void Act(ControlHost host, Random random)
    {
        Modifiers held = (Modifiers)random.Next(8) & (Modifiers)random.Next(8);
        switch (random.Next(7))
        {
            case 0 or 1:
                host.PointerMoved(random.Next(1280), random.Next(800));
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
