using LiveStems.View.Window;

namespace LiveStems.View.Controls;

/// <summary>A place where OpenGL draws; controls and words stand above it.</summary>
internal abstract class PlotControl : Control
{
    /// <summary>What draws there.</summary>
    public abstract IPlot Plot { get; }

    /// <summary>True when the picture is to be drawn again this frame, though nothing asked for it.</summary>
    public bool IsMoving { get; set; }

    /// <summary>Where the plot itself stands.</summary>
    public virtual Box PlotBox => Bounds;

    public override void Draw(Painter painter) => painter.Hole(PlotBox);
}
