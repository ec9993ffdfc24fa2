using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>Upright bars side by side, each with the highest it was held, a mark, and a level above which it is too much.</summary>
internal sealed class MeterPlot(int bars) : IPlot
{
    private const int Depth = 4;

    private const string Text = """
        uniform sampler2D data;
        uniform vec2 size;
        uniform float scale;
        uniform vec3 barTone;
        uniform vec3 overTone;
        uniform vec3 quietTone;
        uniform vec3 markTone;
        void over(vec3 tone, float alpha) { colour = vec4(tone * alpha, alpha) + colour * (1.0 - alpha); }
        void main() {
            int count = textureSize(data, 0).x;
            float slot = size.x / float(count);
            int bar = min(int(place.x * float(count)), count - 1);
            float x = place.x * size.x - float(bar) * slot;
            float y = place.y * size.y;
            vec4 value = texelFetch(data, ivec2(bar, 0), 0);
            colour = vec4(0.0);
            float inside = step(2.0 * scale, x) * step(x, slot - 2.0 * scale);
            over(quietTone, 0.10 * inside);
            float filled = clamp(value.x * size.y - y + 0.5, 0.0, 1.0);
            over(place.y > value.w ? overTone : barTone, inside * filled);
            over(value.y > value.w ? overTone : markTone, inside * step(0.002, value.y) * clamp(scale + 0.5 - abs(y - value.y * size.y), 0.0, 1.0));
            over(markTone, 0.7 * clamp(0.5 * scale + 0.5 - abs(y - value.z * size.y), 0.0, 1.0) * inside);
        }
        """;

    private readonly float[] values = new float[bars * Depth];
    private ShaderProgram? program;
    private DataTexture? texture;

    /// <summary>Sets a bar: shares of the height, from 0 to 1; null where nothing is too much.</summary>
    public void Set(int bar, double level, double held, double mark, double? limit)
    {
        values[bar * Depth] = (float)Math.Clamp(level, 0, 1);
        values[bar * Depth + 1] = (float)Math.Clamp(held, 0, 1);
        values[bar * Depth + 2] = (float)mark;
        values[bar * Depth + 3] = (float)(limit ?? 2);
    }

    public void Draw(in PlotFrame frame)
    {
        program ??= new ShaderProgram(frame.Gl, Text);
        texture ??= new DataTexture(frame.Gl, bars, 1, Depth);
        texture.Write(0, 0, bars, values);
        texture.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("size", (float)frame.Width, (float)frame.Height)
            .Set("scale", frame.Scale)
            .Set("barTone", frame.Theme, Tone.Input)
            .Set("overTone", frame.Theme, Tone.Alarm)
            .Set("quietTone", frame.Theme, Tone.Quiet)
            .Set("markTone", frame.Theme, Tone.Text)
            .Draw();
    }

    public void Release(GL gl)
    {
        program?.Release();
        texture?.Release();
        program = null;
        texture = null;
    }
}
