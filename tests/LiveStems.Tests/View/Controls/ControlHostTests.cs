using LiveStems.View.Controls;
using Xunit;

namespace LiveStems.Tests.View.Controls;

public class ControlHostTests
{
    private readonly List<string> pressed = [];

    [Fact]
    public void TabGoesThroughAllControlsAndAround()
    {
        Stack root = Stack.Row();
        Button[] buttons = [.. Enumerable.Range(0, 3).Select(i => root.Add(new Button($"{i}", () => pressed.Add($"{i}")), Length.Rest()))];
        TestHost test = new(root);
        Control?[] visited = new Control?[4];
        for (int i = 0; i < visited.Length; i++)
        {
            test.Type(Key.Tab);
            visited[i] = test.Host.Focus;
        }

        Assert.Equal([buttons[0], buttons[1], buttons[2], buttons[0]], visited);
        test.Type(Key.Tab, modifiers: Modifiers.Shift);
        test.Type(Key.Enter);
        Assert.Equal(["2"], pressed);
    }

    [Fact]
    public void LettersAreCommandsUnlessSomethingTakesText()
    {
        Stack root = Stack.Column();
        TextEntry entry = root.Add(new TextEntry("words"), Length.Of(30));
        TestHost test = new(root);
        test.Type(Key.S, "s");
        test.Type(Key.S, "S", Modifiers.Shift);
        test.Type(Key.Slash, "?", Modifiers.Shift);
        test.Type(Key.Z, modifiers: Modifiers.Control);
        Assert.Equal(["S", "Shift+S", "?", "Control+Z"], test.Commands);
        test.Click(entry);
        test.Type(Key.S, "s");
        test.Type(Key.Space, " ");
        Assert.Equal("s ", entry.Text);
        Assert.Equal(4, test.Commands.Count);
    }

    [Fact]
    public void WhatStandsAboveTakesPointerAndKeysAndEscapeClosesIt()
    {
        Button below = new("below", () => pressed.Add("below"));
        TestHost test = new(below);
        Stack above = Stack.Column();
        above.Add(new Button("above", () => pressed.Add("above")), Length.Rest());
        test.Host.Open(above);
        test.Host.Layout();
        test.Click(below);
        test.Type(Key.P, "p");
        Assert.Equal(["above"], pressed);
        Assert.Empty(test.Commands);
        test.Type(Key.Escape);
        Assert.Empty(test.Host.Overlays);
        test.Click(below);
        Assert.Equal(["above", "below"], pressed);
    }

    [Fact]
    public void LettingGoBesideAButtonDoesNothing()
    {
        Stack root = Stack.Row();
        Button button = root.Add(new Button("one", () => pressed.Add("one")), Length.Of(50));
        TestHost test = new(root);
        test.Host.PointerMoved(button.Bounds.CentreX, button.Bounds.CentreY);
        test.Host.ButtonPressed(PointerButton.Left, Modifiers.None);
        test.Host.PointerMoved(300, 200);
        test.Host.ButtonReleased(PointerButton.Left, Modifiers.None);
        Assert.Empty(pressed);
    }

    [Fact]
    public void ATipComesWhenThePointerRestsAndGoesWhenItMoves()
    {
        Button button = new("one", () => { }) { Tip = "What it is for." };
        TestHost test = new(button);
        test.Host.PointerMoved(20, 20);
        test.Host.Tick();
        Assert.Null(test.Host.Tip);
        test.Seconds += 1;
        test.Host.Tick();
        Assert.Equal("What it is for.", test.Host.Tip);
        test.Host.PointerMoved(22, 20);
        Assert.Null(test.Host.Tip);
    }

    [Fact]
    public void AScaleOfThreeHundredPerCentMakesUnitsOfThreePixels()
    {
        Button button = new("one", () => pressed.Add("one"));
        TestHost test = new(button);
        test.Host.SetSize(1200, 900, 3);
        test.Host.Layout();
        Assert.Equal(new Box(0, 0, 400, 300), button.Bounds);
        test.Host.PointerMoved(1190, 890);
        Assert.Equal((1190 / 3f, 890 / 3f), test.Host.Pointer);
        Assert.True(button.IsHovered);
    }

    [Fact]
    public void ChooserNarrowsDownByTypingAndTakesTheChosenLine()
    {
        string[] all = ["louder", "softer", "solo"];
        string[] found = all;
        string? taken = null;
        TestHost test = new(Stack.Column());
        test.Host.Open(new Chooser("commands", "type", typed => [.. (found = [.. all.Where(each => each.Contains(typed, StringComparison.Ordinal))]).Select(each => new ChoiceLine(each, string.Empty))], index => taken = found[index]));
        test.Host.Layout();
        test.Type(Key.S, "s");
        test.Type(Key.O, "o");
        test.Type(Key.Down);
        test.Type(Key.Enter);
        Assert.Equal("solo", taken);
        Assert.Empty(test.Host.Overlays);
    }
}
