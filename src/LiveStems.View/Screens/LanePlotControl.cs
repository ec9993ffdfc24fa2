using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>The lanes themselves: press to choose a stem and a place, drag along time to loop, wheel to zoom.</summary>
internal sealed class LanePlotControl(LaneView view, AlbumDesk desk) : PlotControl
{
    private const float DragStart = 6;
    private const float ZoomPerNotch = 0.8f;

    private float pressedX;
    private double pressedShare;

    public LanePlot Lanes { get; } = new();

    /// <summary>The stretch that is being dragged, from 0 to 1 of the song, or null.</summary>
    public (double From, double To)? Dragged { get; private set; }

    public override IPlot Plot => Lanes;

    public override PointerShape PointerShape => PointerShape.Cross;

    private double Width => Math.Max(1, Bounds.Width - Lanes.MeterUnits);

    public override bool Press(in PointerEvent pointer)
    {
        int lane = (int)((pointer.Y - Bounds.Y + view.ScrollUnits) / Lanes.LaneUnits);
        if (pointer.Y >= Bounds.Y && lane >= 0 && lane < view.Rows.Count)
        {
            desk.Select(view.Rows[lane].Place);
        }

        if (pointer.Button == PointerButton.Right)
        {
            desk.Transport.ClearLoop();
            return false;
        }

        pressedX = pointer.X;
        pressedShare = ShareAt(pointer.X);
        Dragged = null;
        return pointer.Button == PointerButton.Left && pointer.X < Bounds.X + Width;
    }

    public override void Drag(in PointerEvent pointer)
    {
        if (Dragged is not null || Math.Abs(pointer.X - pressedX) >= DragStart)
        {
            double share = ShareAt(pointer.X);
            Dragged = (Math.Min(pressedShare, share), Math.Max(pressedShare, share));
            Lanes.Loop = Dragged;
        }
    }

    public override void Release(in PointerEvent pointer)
    {
        if (Dragged is { } dragged)
        {
            desk.Transport.SetLoop(dragged.From * Length, dragged.To * Length);
        }
        else
        {
            desk.Transport.Seek(pressedShare * Length);
        }

        Dragged = null;
    }

    public override bool Wheel(in PointerEvent pointer, float notches)
    {
        if (pointer.Modifiers.HasFlag(Modifiers.Control) || !view.ScrollBy(-notches * Lanes.LaneUnits))
        {
            view.Zoom(Math.Pow(ZoomPerNotch, notches), ShareAt(pointer.X));
        }

        return true;
    }

    private double Length => Math.Max(0.001, desk.Transport.LengthSeconds);

    private double ShareAt(float x)
    {
        (double from, double to) = Lanes.Span;
        return Math.Clamp(from + (x - Bounds.X) / Width * (to - from), 0, 1);
    }
}
