using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Screens;

/// <summary>The page of versions.</summary>
public sealed class DrawerVersionsTests : DrawerTest
{
    [Fact]
    public void WhatIsOtherThanInAVersionIsNotListedAnyMoreOnceTheVersionIsDeleted()
    {
        Screen.OpenDrawer("versions");
        Frame();
        Enter("first");
        Assert.Null(Desk.Stems[0].Gain.SetText("-3 dB"));
        Frame();
        ChooseFirst();
        Press("what is other");
        Assert.Contains(Drawer.Page.Lines(), line => line.Words.Contains("other than in “first”", StringComparison.Ordinal));
        Assert.Null(Desk.Versions.Delete("first"));
        Frame();
        Assert.DoesNotContain(Drawer.Page.Lines(), line => line.Words.Contains("other than in", StringComparison.Ordinal));
        Assert.Null(Desk.Stems[0].Gain.SetText("-4 dB"));
        Frame();
        Assert.DoesNotContain(Desk.Messages, message => message.Kind is MessageKind.Refusal or MessageKind.Trouble);
    }
}
