using LiveStems.View.Controls;
using Silk.NET.OpenGL;
using SkiaSharp;

namespace LiveStems.View.Window;

/// <summary>
/// The picture of all controls, kept in a texture with holes where plots are; only what changed is drawn again.
/// </summary>
internal abstract class ControlLayer : IDisposable
{
    private readonly Painter painter;

    protected ControlLayer(GL gl, Painter painter, int width, int height)
    {
        Gl = gl;
        this.painter = painter;
        Width = width;
        Height = height;
    }

    /// <summary>Width in pixels.</summary>
    public int Width { get; }

    /// <summary>Height in pixels.</summary>
    public int Height { get; }

    /// <summary>The texture; its first row is the uppermost.</summary>
    public abstract uint Texture { get; }

    protected GL Gl { get; }

    protected abstract SKCanvas Canvas { get; }

    /// <summary>
    /// A layer drawn by the processor where OpenGL itself is drawn by the processor, and by the graphics processor elsewhere.
    /// </summary>
    public static ControlLayer Create(GL gl, Painter painter, GpuText? gpu, int width, int height) =>
        gpu is null ? new RasterLayer(gl, painter, width, height) : new GpuLayer(gl, painter, gpu, width, height);

    /// <summary>Draws everything inside a rectangle of pixels again.</summary>
    public void Paint(ControlHost host, in SKRectI pixels)
    {
        Box logical = new(pixels.Left / host.Scale, pixels.Top / host.Scale, pixels.Width / host.Scale, pixels.Height / host.Scale);
        Begin();
        SKCanvas canvas = Canvas;
        canvas.Save();
        canvas.ClipRect(new SKRect(pixels.Left, pixels.Top, pixels.Right, pixels.Bottom));
        canvas.Clear(SKColors.Transparent);
        canvas.Scale(host.Scale);
        painter.Canvas = canvas;
        host.Draw(painter, logical);
        canvas.Restore();
        End(pixels);
    }

    public abstract void Dispose();

    protected static uint MakeTexture(GL gl, int width, int height)
    {
        uint texture = gl.GenTexture();
        GlObjects.Made();
        gl.ActiveTexture(TextureUnit.Texture0);
        gl.BindTexture(TextureTarget.Texture2D, texture);
        gl.TexImage2D(TextureTarget.Texture2D, 0, InternalFormat.Rgba8, (uint)width, (uint)height, 0, PixelFormat.Rgba, PixelType.UnsignedByte, ReadOnlySpan<byte>.Empty);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureMinFilter, (int)GLEnum.Nearest);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureMagFilter, (int)GLEnum.Nearest);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureMaxLevel, 0);
        return texture;
    }

    protected abstract void Begin();

    protected abstract void End(in SKRectI pixels);
}

/// <summary>Drawn by Skia in memory and copied to the texture.</summary>
internal sealed class RasterLayer : ControlLayer
{
    private readonly SKBitmap bitmap;
    private readonly SKCanvas canvas;

    public RasterLayer(GL gl, Painter painter, int width, int height)
        : base(gl, painter, width, height)
    {
        bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Premul));
        canvas = new SKCanvas(bitmap);
        Texture = MakeTexture(gl, width, height);
    }

    public override uint Texture { get; }

    protected override SKCanvas Canvas => canvas;

    public override void Dispose()
    {
        Gl.DeleteTexture(Texture);
        GlObjects.LetGo();
        canvas.Dispose();
        bitmap.Dispose();
    }

    protected override void Begin()
    {
    }

    protected override unsafe void End(in SKRectI pixels)
    {
        Gl.ActiveTexture(TextureUnit.Texture0);
        Gl.BindTexture(TextureTarget.Texture2D, Texture);
        Gl.PixelStore(PixelStoreParameter.UnpackAlignment, 4);
        Gl.PixelStore(PixelStoreParameter.UnpackRowLength, Width);
        byte* first = (byte*)bitmap.GetPixels() + (long)pixels.Top * bitmap.RowBytes + (long)pixels.Left * bitmap.BytesPerPixel;
        Gl.TexSubImage2D(TextureTarget.Texture2D, 0, pixels.Left, pixels.Top, (uint)pixels.Width, (uint)pixels.Height, PixelFormat.Rgba, PixelType.UnsignedByte, first);
        Gl.PixelStore(PixelStoreParameter.UnpackRowLength, 0);
    }
}

/// <summary>Skia's context on ours.</summary>
internal sealed class GpuText : IDisposable
{
    private readonly GRGlInterface functions;

    private GpuText(GRGlInterface functions, GRContext context)
    {
        this.functions = functions;
        Context = context;
    }

    public GRContext Context { get; }

    /// <summary>A context for Skia; null where it cannot work with the one of the window.</summary>
    public static GpuText? TryCreate()
    {
        GRGlInterface? functions = GRGlInterface.CreateOpenGl(GlfwWindow.ProcedureAddress);
        GRContext? context = functions is null ? null : GRContext.CreateGl(functions);
        if (context is null)
        {
            functions?.Dispose();
            return null;
        }

        return new GpuText(functions!, context);
    }

    public void Dispose()
    {
        Context.Dispose();
        functions.Dispose();
    }
}

/// <summary>Drawn by Skia with OpenGL.</summary>
internal sealed class GpuLayer : ControlLayer
{
    private const uint Rgba8 = 0x8058;
    private const uint Texture2D = 0x0DE1;

    private readonly GpuText gpu;
    private readonly GRBackendTexture backend;
    private readonly SKSurface surface;

    public GpuLayer(GL gl, Painter painter, GpuText gpu, int width, int height)
        : base(gl, painter, width, height)
    {
        this.gpu = gpu;
        Texture = MakeTexture(gl, width, height);
        backend = new GRBackendTexture(width, height, false, new GRGlTextureInfo(Texture2D, Texture, Rgba8));
        gpu.Context.ResetContext();
        surface = SKSurface.Create(gpu.Context, backend, GRSurfaceOrigin.TopLeft, SKColorType.Rgba8888);
    }

    public override uint Texture { get; }

    protected override SKCanvas Canvas => surface.Canvas;

    public override void Dispose()
    {
        surface.Dispose();
        backend.Dispose();
        Gl.DeleteTexture(Texture);
        GlObjects.LetGo();
    }

    protected override void Begin() => gpu.Context.ResetContext();

    protected override void End(in SKRectI pixels) => surface.Flush(true);
}
