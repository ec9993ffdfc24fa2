using LiveStems.View.Controls;
using Silk.NET.OpenGL;
using SkiaSharp;

namespace LiveStems.View.Window;

/// <summary>
/// Puts plots and controls together into one kept picture and copies that to the window: what did not change costs nothing
/// but the copy.
/// </summary>
internal sealed class Compositor : IDisposable
{
    private const string CopyText = """
        uniform sampler2D layer;
        uniform vec4 part;
        void main() { colour = texture(layer, part.xy + vec2(place.x, 1.0 - place.y) * part.zw); }
        """;

    private readonly GL gl;
    private readonly Painter painter;
    private readonly GpuText? gpu;
    private readonly ShaderProgram copy;
    private readonly HashSet<IPlot> drawn = [];
    private readonly HashSet<IPlot> waiting = [];
    private readonly List<SKRectI> dirty = [];
    private readonly GpuTimer timer;
    private readonly System.Diagnostics.Stopwatch painting = new();
    private ControlLayer? layer;
    private uint frame;
    private uint picture;
    private bool hasShown;

    public Compositor(GL gl, Painter painter, bool? usesGpuText = null)
    {
        this.gl = gl;
        this.painter = painter;
        Renderer = gl.GetStringS(StringName.Renderer) ?? string.Empty;
        gpu = usesGpuText ?? !IsSoftware(Renderer) ? GpuText.TryCreate() : null;
        copy = new ShaderProgram(gl, CopyText);
        timer = new GpuTimer(gl);
    }

    /// <summary>How long the graphics processor works on a picture.</summary>
    public FrameTimes GpuTimes => timer.Times;

    /// <summary>Time that words and controls of the latest picture took, in seconds.</summary>
    public double PaintSeconds => painting.Elapsed.TotalSeconds;

    /// <summary>Who draws, as OpenGL calls it.</summary>
    public string Renderer { get; }

    /// <summary>Draws what changed, and shows the picture; false when there was nothing to show.</summary>
    public bool Draw(ControlHost host, IReadOnlyList<PlotControl> plots, int width, int height)
    {
        if (layer is null || layer.Width != width || layer.Height != height)
        {
            Resize(width, height);
            host.MarkLayout();
        }

        host.Layout();
        bool isTimed = timer.Begin();
        painting.Restart();
        dirty.Clear();
        foreach (Box box in host.Dirty.Boxes)
        {
            SKRectI pixels = ToPixels(box, host.Scale, width, height);
            dirty.Add(pixels);
            layer!.Paint(host, pixels);
        }

        host.Dirty.Clear();
        painting.Stop();
        bool isShown = dirty.Count > 0;

        gl.BindFramebuffer(FramebufferTarget.Framebuffer, frame);
        gl.Disable(EnableCap.DepthTest);
        gl.Disable(EnableCap.StencilTest);
        gl.Disable(EnableCap.CullFace);
        gl.Disable(EnableCap.FramebufferSrgb);
        gl.ColorMask(true, true, true, true);
        gl.Disable(EnableCap.ScissorTest);
        foreach (SKRectI pixels in dirty)
        {
            CopyLayer(pixels, isBlended: false);
        }

        // Its shaders take a plot a tenth of a second, once: words come first, then one plot after the other.
        int canBegin = hasShown ? 1 : 0;
        foreach (PlotControl plot in plots)
        {
            SKRectI box = ToPixels(plot.PlotBox, host.Scale, width, height);
            if (box.Width <= 0 || box.Height <= 0 || !(plot.IsMoving || waiting.Contains(plot.Plot) || dirty.Exists(pixels => pixels.IntersectsWith(box))))
            {
                continue;
            }

            bool isReady = drawn.Contains(plot.Plot) || canBegin-- > 0;
            DrawPlot(plot, box, host.Scale, isReady);
            _ = isReady ? waiting.Remove(plot.Plot) : waiting.Add(plot.Plot);
            isShown = true;
        }

        if (isShown)
        {
            hasShown = true;
            Show(width, height);
        }

        if (isTimed)
        {
            timer.End();
        }

        return isShown;
    }

    /// <summary>The picture as it is, top row first.</summary>
    public unsafe SKBitmap Read()
    {
        int width = layer!.Width;
        int height = layer.Height;
        SKBitmap bitmap = new(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        byte[] rows = new byte[width * height * 4];
        gl.BindFramebuffer(FramebufferTarget.ReadFramebuffer, frame);
        gl.PixelStore(PixelStoreParameter.PackAlignment, 4);
        fixed (byte* first = rows)
        {
            gl.ReadPixels(0, 0, (uint)width, (uint)height, PixelFormat.Rgba, PixelType.UnsignedByte, first);
            for (int y = 0; y < height; y++)
            {
                new ReadOnlySpan<byte>(first + (long)(height - 1 - y) * width * 4, width * 4)
                    .CopyTo(new Span<byte>((byte*)bitmap.GetPixels() + (long)y * bitmap.RowBytes, width * 4));
            }
        }

        return bitmap;
    }

    /// <summary>True once every plot has been drawn.</summary>
    public bool HasDrawnAll => hasShown && waiting.Count == 0;

    /// <summary>Lets go of what plots have made: another screen comes.</summary>
    public void Forget()
    {
        foreach (IPlot plot in drawn)
        {
            plot.Release(gl);
        }

        drawn.Clear();
        waiting.Clear();
    }

    public void Dispose()
    {
        Forget();
        layer?.Dispose();
        ReleasePicture();
        copy.Release();
        timer.Dispose();
        gpu?.Dispose();
    }

    private static bool IsSoftware(string renderer) =>
        renderer.Contains("llvmpipe", StringComparison.OrdinalIgnoreCase)
        || renderer.Contains("softpipe", StringComparison.OrdinalIgnoreCase)
        || renderer.Contains("SwiftShader", StringComparison.OrdinalIgnoreCase);

    private static SKRectI ToPixels(in Box box, float scale, int width, int height) => box.IsEmpty ? default : new(
        Math.Max(0, (int)MathF.Floor(box.X * scale)),
        Math.Max(0, (int)MathF.Floor(box.Y * scale)),
        Math.Min(width, (int)MathF.Ceiling(box.Right * scale)),
        Math.Min(height, (int)MathF.Ceiling(box.Bottom * scale)));

    private void DrawPlot(PlotControl control, in SKRectI box, float scale, bool isReady)
    {
        gl.Viewport(box.Left, layer!.Height - box.Bottom, (uint)box.Width, (uint)box.Height);
        gl.Scissor(box.Left, layer.Height - box.Bottom, (uint)box.Width, (uint)box.Height);
        gl.Enable(EnableCap.ScissorTest);
        SKColor well = painter.Theme[Tone.Well];
        gl.ClearColor(well.Red / 255f, well.Green / 255f, well.Blue / 255f, 1);
        gl.Clear(ClearBufferMask.ColorBufferBit);
        gl.Enable(EnableCap.Blend);
        gl.BlendFunc(BlendingFactor.One, BlendingFactor.OneMinusSrcAlpha);
        if (isReady)
        {
            drawn.Add(control.Plot);
            control.Plot.Draw(new PlotFrame(gl, box.Width, box.Height, scale, painter.Theme));
        }

        gl.Disable(EnableCap.ScissorTest);
        CopyLayer(box, isBlended: true);
    }

    private void CopyLayer(in SKRectI box, bool isBlended)
    {
        if (isBlended)
        {
            gl.Enable(EnableCap.Blend);
            gl.BlendFunc(BlendingFactor.One, BlendingFactor.OneMinusSrcAlpha);
        }
        else
        {
            gl.Disable(EnableCap.Blend);
        }

        gl.Viewport(box.Left, layer!.Height - box.Bottom, (uint)box.Width, (uint)box.Height);
        gl.ActiveTexture(TextureUnit.Texture0);
        gl.BindTexture(TextureTarget.Texture2D, layer.Texture);
        copy.Use()
            .Set("layer", 0)
            .Set("part", (float)box.Left / layer.Width, (float)box.Top / layer.Height, (float)box.Width / layer.Width, (float)box.Height / layer.Height)
            .Draw();
    }

    private void Show(int width, int height)
    {
        gl.BindFramebuffer(FramebufferTarget.ReadFramebuffer, frame);
        gl.BindFramebuffer(FramebufferTarget.DrawFramebuffer, 0);
        gl.Disable(EnableCap.ScissorTest);
        gl.BlitFramebuffer(0, 0, width, height, 0, 0, width, height, ClearBufferMask.ColorBufferBit, BlitFramebufferFilter.Nearest);
    }

    private void Resize(int width, int height)
    {
        layer?.Dispose();
        layer = ControlLayer.Create(gl, painter, gpu, width, height);
        ReleasePicture();
        picture = gl.GenTexture();
        GlObjects.Made(2);
        gl.ActiveTexture(TextureUnit.Texture0);
        gl.BindTexture(TextureTarget.Texture2D, picture);
        gl.TexImage2D(TextureTarget.Texture2D, 0, InternalFormat.Rgba8, (uint)width, (uint)height, 0, PixelFormat.Rgba, PixelType.UnsignedByte, ReadOnlySpan<byte>.Empty);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureMinFilter, (int)GLEnum.Nearest);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureMagFilter, (int)GLEnum.Nearest);
        frame = gl.GenFramebuffer();
        gl.BindFramebuffer(FramebufferTarget.Framebuffer, frame);
        gl.FramebufferTexture2D(FramebufferTarget.Framebuffer, FramebufferAttachment.ColorAttachment0, TextureTarget.Texture2D, picture, 0);
        if (gl.CheckFramebufferStatus(FramebufferTarget.Framebuffer) != GLEnum.FramebufferComplete)
        {
            throw WindowException.NoOpenGl("the driver cannot draw into a texture");
        }
    }

    private void ReleasePicture()
    {
        if (picture != 0)
        {
            gl.DeleteFramebuffer(frame);
            gl.DeleteTexture(picture);
            GlObjects.LetGo(2);
            picture = 0;
        }
    }
}
