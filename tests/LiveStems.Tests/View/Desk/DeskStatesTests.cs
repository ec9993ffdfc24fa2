using LiveStems.Engine.Monitor;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class DeskStatesTests : IDisposable
{
    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;
    private readonly DeskStates states;

    public DeskStatesTests()
    {
        desk = album.Open();
        states = new DeskStates(desk);
    }

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    [Fact]
    public void WhatIsHeardOtherwiseThanTheMasterIsStaysInSight()
    {
        album.Run(desk, 0.1);
        Assert.Empty(states.Choices);
        foreach (string command in new[] { "side", "swap", "tone", "whole-album" })
        {
            desk.Commands.All.Single(each => each.Id == command).Run();
        }

        Assert.Equal(["tone", "side", "swapped", "whole album"], states.Choices.Select(each => each.Words));
    }

    [Fact]
    public void TheSafetyLimiterIsSeenWhileItActsAndForSomeSecondsAfter()
    {
        desk.Monitor.Change(settings => settings with { IsDimmed = false, SafetyCeilingDbfs = MonitorSettings.LowestSafetyCeilingDbfs });
        desk.Transport.Play();
        album.Run(desk, 0.5);
        Assert.Contains(states.Warnings, each => each.Words.StartsWith("safety limiter −", StringComparison.Ordinal));
        desk.Transport.Stop();
        album.Run(desk, 1);
        Assert.Contains(states.Warnings, each => each.Words.StartsWith("safety limiter −", StringComparison.Ordinal));
        album.Run(desk, 4);
        Assert.DoesNotContain(states.Warnings, each => each.Words.StartsWith("safety limiter", StringComparison.Ordinal));
    }
}
