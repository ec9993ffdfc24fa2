using CsCheck;
using LiveStems.View.Controls;
using Xunit;

namespace LiveStems.Tests.View.Controls;

public class LayoutTests
{
    [Fact]
    public void SharesFillWhatFixedOnesLeave()
    {
        Stack row = Stack.Row(10, 5);
        Label first = row.Add(new Label("one"), Length.Of(70));
        Label second = row.Add(new Label("two"), Length.Rest());
        Label third = row.Add(new Label("three"), Length.Rest(2));
        Label hidden = row.Add(new Label("four"), Length.Of(500));
        hidden.IsVisible = false;
        _ = new TestHost(row);
        Assert.Equal(new Box(5, 5, 70, 290), first.Bounds);
        Assert.Equal(new Box(85, 5, 100, 290), second.Bounds);
        Assert.Equal(new Box(195, 5, 200, 290), third.Bounds);
    }

    [Fact]
    public void SplitterKeepsBothSidesAsLargeAsTheyMustBe()
    {
        Label first = new("one");
        Label second = new("two");
        Splitter splitter = new(true, first, second, 0.5f);
        TestHost test = new(splitter);
        splitter.SetShare(0.01f);
        test.Host.Layout();
        Assert.True(first.Bounds.Width >= 77, $"{first.Bounds.Width}");
        splitter.SetShare(0.99f);
        test.Host.Layout();
        Assert.True(second.Bounds.Width >= 77, $"{second.Bounds.Width}");
        Assert.Equal(400, second.Bounds.Right);
    }

    [Fact]
    public void PressingBesideTheEdgeOfASplitterLeavesTheKeyboardToTheCommands()
    {
        Splitter splitter = new(true, new Label("one"), new Label("two"), 0.5f);
        TestHost test = new(splitter);
        test.Host.PointerMoved(50, 50);
        test.Host.ButtonPressed(PointerButton.Left, Modifiers.None);
        test.Host.ButtonReleased(PointerButton.Left, Modifiers.None);
        Assert.Null(test.Host.Focus);
        test.Host.PointerMoved(200, 50);
        test.Host.ButtonPressed(PointerButton.Left, Modifiers.None);
        Assert.Same(splitter, test.Host.Focus);
    }

    [Fact]
    public void TheKeyboardComingToAPartOutOfSightBringsItIntoSight()
    {
        Stack column = Stack.Column();
        ValueBox[] boxes = [.. Enumerable.Range(0, 40).Select(_ => column.Add(new ValueBox(new TestValue()), Length.Of(20)))];
        TestHost test = new(new Scroll(column));
        test.Host.SetFocus(boxes[30]);
        test.Host.Layout();
        Assert.InRange(boxes[30].Bounds.Bottom, 20, 300);
        test.Host.SetFocus(boxes[0]);
        test.Host.Layout();
        Assert.Equal(0, boxes[0].Bounds.Y);
    }

    [Fact]
    public void WhatIsDrawnAgainCoversAllThatChanged()
    {
        Gen<Box> box = Gen.Select(Gen.Int[0, 300], Gen.Int[0, 200], Gen.Int[1, 80], Gen.Int[1, 60], (x, y, w, h) => new Box(x, y, w, h));
        box.Array[1, 40].Sample(boxes =>
        {
            DirtyArea area = new();
            foreach (Box one in boxes)
            {
                area.Add(one);
            }

            return area.Boxes.Count <= 12
                && boxes.All(one => area.Boxes.Any(kept => kept.Common(one) == one))
                && area.Boxes.All(one => area.Boxes.All(other => one == other || !one.Meets(other)));
        });
    }
}
