using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>Gain reduction as it went by, hanging from the upper edge, the newest at the right; a ring of columns.</summary>
internal sealed class ReductionHistoryPlot(int columns) : IPlot
{
    private const string Text = """
        uniform sampler2D data;
        uniform vec2 size;
        uniform float scale;
        uniform float newest;
        uniform float deepest;
        uniform vec3 gainTone;
        uniform vec3 gridTone;
        void over(vec3 tone, float alpha) { colour = vec4(tone * alpha, alpha) + colour * (1.0 - alpha); }
        float reach(float x) {
            int count = textureSize(data, 0).x;
            int column = (int(newest) + 1 + int(clamp(x, 0.0, 0.9999) * float(count))) % count;
            return clamp(texelFetch(data, ivec2(column, 0), 0).r / deepest, 0.0, 1.0) * size.y;
        }
        void main() {
            float y = (1.0 - place.y) * size.y;
            float here = reach(place.x);
            float next = reach(place.x + 1.0 / size.x);
            colour = vec4(0.0);
            float unit = size.y / deepest * 3.0;
            over(gridTone, step(mod(y, unit), scale) * step(scale, y));
            over(gainTone, 0.35 * clamp(here - y + 0.5, 0.0, 1.0));
            float low = min(here, next) - 0.7 * scale;
            float high = max(here, next) + 0.7 * scale;
            over(gainTone, clamp(y + 0.5 - low, 0.0, 1.0) * clamp(high - y + 0.5, 0.0, 1.0));
        }
        """;

    private readonly float[] kept = new float[columns];
    private ShaderProgram? program;
    private DataTexture? texture;
    private int newest;

    /// <summary>Reduction at the lower edge in dB, above 0.</summary>
    public double DeepestDb { get; set; } = 12;

    /// <summary>The next value in dB, 0 or below.</summary>
    public void Add(double reductionDb)
    {
        newest = (newest + 1) % columns;
        kept[newest] = (float)-reductionDb;
    }

    /// <summary>Forgets everything.</summary>
    public void Clear() => Array.Clear(kept);

    public void Draw(in PlotFrame frame)
    {
        program ??= new ShaderProgram(frame.Gl, Text);
        texture ??= new DataTexture(frame.Gl, columns, 1);
        texture.Write(0, 0, columns, kept);
        texture.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("size", (float)frame.Width, (float)frame.Height)
            .Set("scale", frame.Scale)
            .Set("newest", (float)newest)
            .Set("deepest", (float)DeepestDb)
            .Set("gainTone", frame.Theme, Tone.Reduction)
            .Set("gridTone", frame.Theme, Tone.Grid)
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
