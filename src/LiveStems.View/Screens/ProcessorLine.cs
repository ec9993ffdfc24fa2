using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>A processor in the list of the chain: press to choose, drag to another place, press the mark to pass it by.</summary>
internal sealed class ProcessorLine(AlbumDesk desk, ProcessorModel processor, Action<ProcessorLine, float> dragged, Action<ProcessorLine> dropped) : Control
{
    private const float MarkUnits = 28;
    private const float ReductionUnits = 58;
    private const float DragStart = 5;

    private float pressedY;
    private bool isDragging;
    private string shownReduction = string.Empty;
    private string? shownFault;
    private (string Reason, string? PassedBy, string? Faults)? toldInTip;

    public ProcessorModel Processor => processor;

    /// <summary>True while it is being dragged.</summary>
    public bool IsDragging => isDragging;

    public override bool CanFocus => true;

    public override PointerShape PointerShape => PointerShape.Hand;

    private Box ReductionBox => new(Bounds.Right - MarkUnits - ReductionUnits - 6, Bounds.Y, ReductionUnits, Bounds.Height);

    private Box Mark => new(Bounds.Right - MarkUnits - 2, Bounds.Y + 3, MarkUnits, Bounds.Height - 6);

    private string? Fault => processor.PassedBy is { } why ? $"passed by: it {why}" : processor.Faults;

    private string Reduction => processor.ReductionDb < -0.05 ? FrequencyText.OfDb(processor.ReductionDb) : string.Empty;

    /// <summary>Has the reading drawn again when it is another, or all of it when the sound passes it by or it has done something wrong.</summary>
    public void Follow()
    {
        if (Fault != shownFault)
        {
            Redraw();
        }
        else if (Reduction != shownReduction)
        {
            Host?.MarkDirty(ReductionBox);
        }

        if (toldInTip != (processor.Reason, processor.PassedBy, processor.Faults))
        {
            toldInTip = (processor.Reason, processor.PassedBy, processor.Faults);
            Tip = string.Join(" ", Sentences());
        }
    }

    private IEnumerable<string> Sentences()
    {
        yield return $"{processor.Name}: {(processor.Reason.Length > 0 ? $"{processor.Reason}. {processor.Purpose}" : processor.Purpose)}";
        if (processor is { PassedBy: { } why, Description: not null })
        {
            yield return $"The sound passes it by: it {why}.";
        }

        if (processor.Faults is { } faults)
        {
            yield return $"So far {faults}.";
        }
    }

    public override Extent Measure(ITextRuler ruler) => new(200, 26);

    public override void Draw(Painter painter)
    {
        bool isSelected = processor.IsSelected;
        painter.Fill(Bounds, isSelected ? Tone.Raised : IsHovered ? Tone.Lifted : Tone.Panel, radius: 3);
        if (isSelected)
        {
            painter.Fill(new(Bounds.X, Bounds.Y + 3, 3, Bounds.Height - 6), Tone.Chosen, radius: 1.5f);
        }

        // Passed by it still answers: its words are quiet, not faded.
        Tone name = processor.IsBypassed ? Tone.Quiet : Tone.Text;
        painter.Text($"{processor.Index + 1}", new(Bounds.X + 8, Bounds.Y, 14, Bounds.Height), Tone.Quiet, Lettering.Small);
        float left = Bounds.X + 24;
        painter.Text(processor.Name, Box.Between(left, Bounds.Y, ReductionBox.X, Bounds.Bottom), name, isSelected ? Lettering.Strong : Lettering.Plain);
        float taken = painter.Fonts.Width(processor.Name, isSelected ? Lettering.Strong : Lettering.Plain) + 8;
        shownFault = Fault;
        painter.Text(
            shownFault ?? processor.Reason,
            Box.Between(left + taken, Bounds.Y + 1, ReductionBox.X, Bounds.Bottom),
            shownFault is null ? Tone.Quiet : Tone.Trouble,
            Lettering.Small);
        shownReduction = Reduction;
        painter.Text(shownReduction, ReductionBox, Tone.Reduction, side: Side.Right);
        painter.Fill(Mark, processor.IsBypassed ? Tone.Reduction : Tone.Raised, radius: 3);
        painter.Text(processor.IsBypassed ? "out" : "in", Mark, processor.IsBypassed ? Tone.OnChosen : Tone.Text, Lettering.Small, Side.Centre);
        if (HasFocus)
        {
            painter.Frame(Bounds, Tone.Focus, 1.5f, 3);
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (Mark.Contains(pointer.X, pointer.Y))
        {
            processor.ToggleBypass();
            return false;
        }

        processor.Select();
        pressedY = pointer.Y;
        isDragging = false;
        return true;
    }

    public override void Drag(in PointerEvent pointer)
    {
        isDragging |= Math.Abs(pointer.Y - pressedY) > DragStart;
        if (isDragging)
        {
            dragged(this, pointer.Y);
        }
    }

    public override void Release(in PointerEvent pointer)
    {
        if (isDragging)
        {
            isDragging = false;
            dropped(this);
        }
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (modifiers == Modifiers.None && key is Key.Enter or Key.PadEnter)
        {
            desk.Select(processor.Place);
            return true;
        }

        return false;
    }
}
