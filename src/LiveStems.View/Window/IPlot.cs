using LiveStems.View.Controls;
using Silk.NET.OpenGL;

namespace LiveStems.View.Window;

/// <summary>Where and how a plot is to be drawn.</summary>
/// <param name="Gl">The functions of OpenGL.</param>
/// <param name="Width">Width of the plot in pixels; the viewport is set.</param>
/// <param name="Height">Height of the plot in pixels.</param>
/// <param name="Scale">Pixels in a logical unit.</param>
/// <param name="Theme">The colours.</param>
internal readonly record struct PlotFrame(GL Gl, int Width, int Height, float Scale, Theme Theme);

/// <summary>Something that draws with OpenGL. Its objects are made at the first drawing and let go at the end.</summary>
internal interface IPlot
{
    void Draw(in PlotFrame frame);

    void Release(GL gl);
}
