using LiveStems.View.Controls;
using Silk.NET.OpenGL;
using SkiaSharp;

namespace LiveStems.View.Window;

/// <summary>A fragment shader over a rectangle that fills the viewport; <c>place</c> is 0 at the lower left and 1 at the upper right.</summary>
internal sealed class ShaderProgram
{
    private const string Vertex = """
        #version 330 core
        out vec2 place;
        void main() {
            place = vec2(gl_VertexID & 1, gl_VertexID >> 1);
            gl_Position = vec4(place * 2.0 - 1.0, 0.0, 1.0);
        }
        """;

    private const string Head = """
        #version 330 core
        in vec2 place;
        out vec4 colour;

        """;

    private readonly GL gl;
    private readonly uint program;
    private readonly uint vertexArray;
    private readonly Dictionary<string, int> uniforms = [];

    /// <param name="gl">The functions of OpenGL.</param>
    /// <param name="fragment">Text of the shader after the declarations of <c>place</c> and <c>colour</c>.</param>
    public ShaderProgram(GL gl, string fragment)
    {
        this.gl = gl;
        uint vertexShader = Compile(ShaderType.VertexShader, Vertex);
        uint fragmentShader = Compile(ShaderType.FragmentShader, Head + fragment);
        program = gl.CreateProgram();
        gl.AttachShader(program, vertexShader);
        gl.AttachShader(program, fragmentShader);
        gl.LinkProgram(program);
        if (gl.GetProgram(program, ProgramPropertyARB.LinkStatus) == 0)
        {
            throw new InvalidOperationException(gl.GetProgramInfoLog(program));
        }

        gl.DeleteShader(vertexShader);
        gl.DeleteShader(fragmentShader);
        vertexArray = gl.GenVertexArray();
        GlObjects.Made(2);
    }

    public ShaderProgram Use()
    {
        gl.UseProgram(program);
        gl.BindVertexArray(vertexArray);
        return this;
    }

    public ShaderProgram Set(string name, float value)
    {
        gl.Uniform1(At(name), value);
        return this;
    }

    public ShaderProgram Set(string name, int value)
    {
        gl.Uniform1(At(name), value);
        return this;
    }

    public ShaderProgram Set(string name, float x, float y)
    {
        gl.Uniform2(At(name), x, y);
        return this;
    }

    public ShaderProgram Set(string name, float x, float y, float z)
    {
        gl.Uniform3(At(name), x, y, z);
        return this;
    }

    public ShaderProgram Set(string name, float x, float y, float z, float w)
    {
        gl.Uniform4(At(name), x, y, z, w);
        return this;
    }

    public ShaderProgram Set(string name, SKColor colour)
    {
        gl.Uniform3(At(name), colour.Red / 255f, colour.Green / 255f, colour.Blue / 255f);
        return this;
    }

    public ShaderProgram Set(string name, Theme theme, Tone tone) => Set(name, theme[tone]);

    /// <summary>Draws the rectangle.</summary>
    public void Draw() => gl.DrawArrays(PrimitiveType.TriangleStrip, 0, 4);

    public void Release()
    {
        gl.DeleteProgram(program);
        gl.DeleteVertexArray(vertexArray);
        GlObjects.LetGo(2);
    }

    private int At(string name) => uniforms.TryGetValue(name, out int place) ? place : uniforms[name] = gl.GetUniformLocation(program, name);

    private uint Compile(ShaderType type, string text)
    {
        uint shader = gl.CreateShader(type);
        gl.ShaderSource(shader, text);
        gl.CompileShader(shader);
        return gl.GetShader(shader, ShaderParameterName.CompileStatus) != 0
            ? shader
            : throw new InvalidOperationException(gl.GetShaderInfoLog(shader));
    }
}
