using Silk.NET.OpenGL;

namespace LiveStems.View.Window;

/// <summary>
/// Numbers for shaders: columns and rows of one or four floats. As a ring, rows or columns are written one after another and the shader
/// is told where the oldest stands.
/// </summary>
internal sealed class DataTexture
{
    private readonly GL gl;
    private readonly uint texture;
    private readonly int depth;

    /// <summary>All zero.</summary>
    /// <param name="gl">The functions of OpenGL.</param>
    /// <param name="columns">Columns.</param>
    /// <param name="rows">Rows.</param>
    /// <param name="depth">Floats at each place: 1 or 4.</param>
    public DataTexture(GL gl, int columns, int rows, int depth = 1)
    {
        this.gl = gl;
        this.depth = depth;
        Columns = columns;
        Rows = rows;
        texture = gl.GenTexture();
        GlObjects.Made();
        Bind(0);
        gl.TexImage2D<float>(TextureTarget.Texture2D, 0, depth == 1 ? InternalFormat.R32f : InternalFormat.Rgba32f, (uint)columns, (uint)rows, 0, Format, PixelType.Float, new float[columns * rows * depth]);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureMinFilter, (int)GLEnum.Nearest);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureMagFilter, (int)GLEnum.Nearest);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureWrapS, (int)GLEnum.ClampToEdge);
        gl.TexParameter(TextureTarget.Texture2D, TextureParameterName.TextureWrapT, (int)GLEnum.ClampToEdge);
    }

    public int Columns { get; }

    public int Rows { get; }

    private PixelFormat Format => depth == 1 ? PixelFormat.Red : PixelFormat.Rgba;

    /// <summary>Makes it the texture of a unit.</summary>
    public void Bind(int unit)
    {
        gl.ActiveTexture(TextureUnit.Texture0 + unit);
        gl.BindTexture(TextureTarget.Texture2D, texture);
    }

    /// <summary>Replaces a rectangle of it.</summary>
    /// <param name="column">First column.</param>
    /// <param name="row">First row.</param>
    /// <param name="columns">Number of columns.</param>
    /// <param name="values">Row after row.</param>
    public void Write(int column, int row, int columns, ReadOnlySpan<float> values)
    {
        Bind(0);
        gl.PixelStore(PixelStoreParameter.UnpackAlignment, 4);
        gl.PixelStore(PixelStoreParameter.UnpackRowLength, 0);
        gl.TexSubImage2D(TextureTarget.Texture2D, 0, column, row, (uint)columns, (uint)(values.Length / columns / depth), Format, PixelType.Float, values);
    }

    public void Release()
    {
        gl.DeleteTexture(texture);
        GlObjects.LetGo();
    }
}
