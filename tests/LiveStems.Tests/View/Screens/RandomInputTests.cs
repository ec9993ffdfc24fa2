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
        RandomPointer hands = new(seed);
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
            hands.Act(host, 1280, 800);
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
}
