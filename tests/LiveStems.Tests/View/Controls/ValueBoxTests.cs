using LiveStems.View.Controls;
using Xunit;

namespace LiveStems.Tests.View.Controls;

public class ValueBoxTests
{
    private readonly TestValue value = new();
    private readonly ValueBox box;
    private readonly TestHost test;

    public ValueBoxTests()
    {
        box = new ValueBox(value);
        Stack root = Stack.Column();
        root.Add(box, Length.Of(20));
        root.Add(new Button("beside", () => { }), Length.Of(20));
        test = new TestHost(root);
    }

    [Fact]
    public void DraggingUpRaisesAndEndsTheGesture()
    {
        Drag(-24, Modifiers.None);
        Assert.Equal(0.6, value.Now, 6);
        Assert.True(value.HasEnded);
    }

    [Fact]
    public void ShiftDragsTenTimesFiner()
    {
        Drag(-24, Modifiers.Shift);
        Assert.Equal(0.51, value.Now, 6);
    }

    [Fact]
    public void DoubleClickResets()
    {
        test.Click(box);
        test.Click(box);
        Assert.Equal(value.DefaultTravel, value.Now);
    }

    [Fact]
    public void EnterTypesAndTakesTheText()
    {
        test.Click(box);
        test.Type(Key.Enter);
        test.Type(Key.D0, "0");
        test.Type(Key.Period, ".");
        test.Type(Key.D7, "7");
        test.Type(Key.Enter);
        Assert.False(box.IsTyping);
        Assert.Equal(0.7, value.Now);
    }

    [Fact]
    public void ADigitBeginsToTypeWithItself()
    {
        test.Click(box);
        test.Type(Key.D1, "1");
        test.Type(Key.Enter);
        Assert.Equal(1, value.Now);
    }

    [Fact]
    public void WhatIsNoNumberIsRefusedAndStays()
    {
        test.Click(box);
        test.Type(Key.Enter);
        test.Type(Key.X, "x");
        test.Type(Key.Enter);
        Assert.Equal("'x' is no number", box.Fault);
        Assert.True(box.IsTyping);
        test.Type(Key.Escape);
        Assert.False(box.IsTyping);
        Assert.Equal(0.5, value.Now);
        Assert.Empty(test.Commands);
    }

    [Fact]
    public void ACommandTakesWhatIsTypedFirst()
    {
        TypeSeven();
        test.Type(Key.PageDown);
        Assert.Equal(0.7, value.Now);
        Assert.False(box.IsTyping);
        Assert.Equal(["Page down"], test.Commands);
    }

    [Fact]
    public void ACommandWaitsWhileWhatIsTypedIsRefused()
    {
        test.Click(box);
        test.Type(Key.Enter);
        test.Type(Key.X, "x");
        test.Type(Key.S, modifiers: Modifiers.Control);
        Assert.Equal("'x' is no number", box.Fault);
        Assert.True(box.IsTyping);
        Assert.Empty(test.Commands);
    }

    [Fact]
    public void UndoTakesBackWhatIsBeingTypedAndNothingElse()
    {
        TypeSeven();
        test.Type(Key.Z, modifiers: Modifiers.Control);
        Assert.False(box.IsTyping);
        Assert.Equal(0.5, value.Now);
        Assert.Empty(test.Commands);
    }

    [Fact]
    public void UpAndDownGoNowhereWhileItIsTypedInto()
    {
        TypeSeven();
        test.Type(Key.Down);
        test.Type(Key.Up);
        Assert.True(box.IsTyping);
        Assert.Equal(0.5, value.Now);
        Assert.Empty(test.Commands);
    }

    [Fact]
    public void WhatIsTypedIsDroppedWhenTheBoxIsTakenOutOfTheWindow()
    {
        TypeSeven();
        box.Parent!.Remove(box);
        Assert.False(box.IsTyping);
        Assert.Equal(0.5, value.Now);
        Assert.Null(test.Host.Focus);
    }

    [Fact]
    public void ArrowsStepAndShiftStepsFiner()
    {
        test.Click(box);
        test.Type(Key.Up);
        test.Type(Key.Down, modifiers: Modifiers.Shift);
        Assert.Equal(0.509, value.Now, 9);
    }

    [Fact]
    public void TheWheelTurnsOnlyWhatHasTheKeyboard()
    {
        test.Host.PointerMoved(box.Bounds.CentreX, box.Bounds.CentreY);
        test.Host.WheelTurned(0, 1);
        Assert.Equal(0.5, value.Now);
        test.Click(box);
        test.Host.WheelTurned(0, 1);
        Assert.Equal(0.51, value.Now, 9);
    }

    [Fact]
    public void AClickGoesToTheNextChoice()
    {
        TestValue choice = new(isStepped: true);
        ValueBox choiceBox = new(choice);
        TestHost other = new(choiceBox);
        other.Click(choiceBox);
        Assert.Equal(1, choice.Now);
        other.Click(choiceBox);
        Assert.Equal(0, choice.Now);
    }

    private void TypeSeven()
    {
        test.Click(box);
        test.Type(Key.Enter);
        test.Type(Key.Period, ".");
        test.Type(Key.D7, "7");
    }

    private void Drag(float down, Modifiers modifiers)
    {
        // The first units are for telling a drag from a click, and count.
        test.Host.PointerMoved(box.Bounds.CentreX, box.Bounds.CentreY);
        test.Host.ButtonPressed(PointerButton.Left, modifiers);
        test.Host.PointerMoved(box.Bounds.CentreX, box.Bounds.CentreY + down);
        test.Host.ButtonReleased(PointerButton.Left, modifiers);
    }
}
