using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class ChainViewTests : DrawerTest
{
    [Fact]
    public void AValueStaysInTheHandWhileItIsDraggedAndKeepsTheKeyboardAfterTyping()
    {
        Choose("compressor");
        ValueBox threshold = Box("Threshold");
        double before = Value("thresholdDb");
        Drag(threshold.Bounds.Right - 20, threshold.Bounds.CentreY, 0, 40);
        Assert.Same(threshold, Box("Threshold"));
        // 240 units are the whole way.
        ParameterTravel(before, Value("thresholdDb"), -40 / 240.0);
        Assert.Same(threshold, Host.Focus);
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Host.KeyPressed(Key.A, Modifiers.Control, false);
        Host.TextTyped("-24");
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Frame();
        Assert.Equal(-24, Value("thresholdDb"));
        Assert.Same(threshold, Host.Focus);
        Host.KeyPressed(Key.Delete, Modifiers.None, false);
        Frame();
        Assert.True(Desk.Chain.Selected!.Parameter("thresholdDb")!.IsDefault);
    }

    [Fact]
    public void AProcessorIsDraggedToAnotherPlaceThoughItWasNotChosen()
    {
        Desk.Select(Desk.Stems[0].Place);
        Frame();
        ProcessorLine[] lines = [.. Screen.Root.Everything().OfType<ProcessorLine>()];
        Assert.Equal(["equaliser", "compressor"], Desk.Chain.Processors.Select(each => each.Id));
        Drag(lines[0].Bounds.X + 60, lines[0].Bounds.CentreY, 0, 40);
        Assert.Equal(["compressor", "equaliser"], Desk.Chain.Processors.Select(each => each.Id));
        Host.KeyPressed(Key.Z, Modifiers.Control, false);
        Frame();
        Assert.Equal(["equaliser", "compressor"], Desk.Chain.Processors.Select(each => each.Id));
        Assert.Equal(MessageKind.Remark, Desk.Messages[^1].Kind);
        Assert.StartsWith("undone: ", Desk.Messages[^1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void WhyAProcessorIsThereIsTypedAndComesBackWithUndo()
    {
        Choose("compressor");
        TextEntry reason = Screen.Root.Everything().OfType<TextEntry>().Single(each => each.Bounds.Width > 0 && each.Parent is Stack);
        Host.SetFocus(reason);
        Host.TextTyped("holds the low notes");
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Assert.Equal("holds the low notes", Desk.Chain.Selected!.Reason);
        Host.SetFocus(null);
        _ = Desk.Undo();
        Frame();
        Assert.Equal(string.Empty, reason.Text);
    }

    [Fact]
    public void WhatIsRefusedIsSaidInWords()
    {
        Choose("compressor");
        Assert.NotNull(Box("Threshold").Value.SetText("loud"));
        Assert.Equal(MessageKind.Refusal, Desk.Messages[^1].Kind);
    }

    [Fact]
    public void TheHarmonicsOfASaturatorAreMeasuredOnceItsValuesStandStill()
    {
        Desk.Select(Desk.Stems[0].Place);
        Assert.Null(Desk.Chain.Add("saturator"));
        Wait(() => Harmonics.Count > 0);
        // The soft curve is odd: of the second harmonic there is none.
        Assert.True(Harmonics[1] > Harmonics[0] + 40);
        double third = Harmonics[1];
        Assert.Null(Desk.Chain.Selected!.Parameter("driveDb")!.Set(24));
        Wait(() => Harmonics is { Count: > 1 } now && now[1] > third + 6);
        Assert.True(Desk.Probed.Known!.ActsOnLevel);
    }

    private IReadOnlyList<double> Harmonics => Desk.Probed.Known?.HarmonicsDb ?? [];

    private void Choose(string id)
    {
        Desk.Select(Desk.Stems[0].Place);
        Desk.Chain.Processors.Single(each => each.Id == id).Select();
        Frame();
    }

    private ValueBox Box(string name) => Screen.Root.Everything().OfType<ValueBox>().Single(each => each.Value.Name == name && each.Bounds.Width > 0);

    private double Value(string id) => Desk.Chain.Selected!.Parameter(id)!.Value;

    private void ParameterTravel(double before, double after, double expected)
    {
        LiveStems.Processing.Contract.ParameterSpec spec = Desk.Chain.Selected!.Parameter("thresholdDb")!.Spec;
        // Dragged values are rounded to steps that people read.
        Assert.Equal(expected, spec.ToTravel(after) - spec.ToTravel(before), 0.01);
    }

    private void Drag(float x, float y, float byX, float byY)
    {
        Host.PointerMoved(x, y);
        Host.ButtonPressed(PointerButton.Left, Modifiers.None);
        for (int step = 1; step <= 8; step++)
        {
            Frame();
            Host.PointerMoved(x + byX * step / 8, y + byY * step / 8);
        }

        Frame();
        Host.ButtonReleased(PointerButton.Left, Modifiers.None);
        Frame();
    }
}
