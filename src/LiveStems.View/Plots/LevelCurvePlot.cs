using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>Output level over input level, with the point where the sound is now.</summary>
internal sealed class LevelCurvePlot : IPlot
{
    private const int Points = 128;

    private const string Text = """
        uniform sampler2D data;
        uniform vec2 size;
        uniform float scale;
        uniform vec2 point;
        uniform vec3 curveTone;
        uniform vec3 pointTone;
        uniform vec3 gridTone;
        uniform vec3 quietTone;
        void over(vec3 tone, float alpha) { colour = vec4(tone * alpha, alpha) + colour * (1.0 - alpha); }
        float rise(float x) {
            float column = clamp(x, 0.0, 1.0) * float(textureSize(data, 0).x - 1);
            int left = min(int(column), textureSize(data, 0).x - 2);
            return mix(texelFetch(data, ivec2(left, 0), 0).r, texelFetch(data, ivec2(left + 1, 0), 0).r, column - float(left)) * size.y;
        }
        float line(float here, float next, float y, float width) {
            return clamp(y + 0.5 - min(here, next) + width * 0.5, 0.0, 1.0) * clamp(max(here, next) + width * 0.5 - y + 0.5, 0.0, 1.0);
        }
        void main() {
            vec2 pixel = place * size;
            float step = 1.0 / size.x;
            colour = vec4(0.0);
            vec2 cell = size / 5.0;
            over(gridTone, max(1.0 - clamp(abs(mod(pixel.x, cell.x) - 0.5) - 0.2, 0.0, 1.0), 1.0 - clamp(abs(mod(pixel.y, cell.y) - 0.5) - 0.2, 0.0, 1.0)) * 0.8);
            over(quietTone, 0.5 * line(place.x * size.y, (place.x + step) * size.y, pixel.y, scale));
            float here = rise(place.x);
            over(curveTone, 0.16 * clamp(here - pixel.y + 0.5, 0.0, 1.0));
            over(curveTone, line(here, rise(place.x + step), pixel.y, 1.6 * scale));
            if (point.x > 0.0) {
                float away = distance(pixel, vec2(point.x * size.x, rise(point.x)));
                over(pointTone, clamp(4.0 * scale - away + 0.5, 0.0, 1.0));
            }
        }
        """;

    private readonly float[] heights = new float[Points];
    private ShaderProgram? program;
    private DataTexture? texture;
    private bool isChanged = true;

    /// <summary>Level at the left and lower edges in dB; the right and upper ones are 0.</summary>
    public double FloorDb { get; set; } = -60;

    /// <summary>Level that comes in now in dBFS; below the floor for none.</summary>
    public double InputDbfs { get; set; } = double.NegativeInfinity;

    /// <summary>Takes the curve: output level in dB for an input level in dB.</summary>
    public void Set(Func<double, double> outputDb)
    {
        for (int i = 0; i < Points; i++)
        {
            double input = FloorDb * (1 - i / (Points - 1.0));
            heights[i] = (float)Math.Clamp(1 - outputDb(input) / FloorDb, -0.1, 1.1);
        }

        isChanged = true;
    }

    public void Draw(in PlotFrame frame)
    {
        program ??= new ShaderProgram(frame.Gl, Text);
        if (texture is null)
        {
            texture = new DataTexture(frame.Gl, Points, 1);
            isChanged = true;
        }

        if (isChanged)
        {
            texture.Write(0, 0, Points, heights);
            isChanged = false;
        }

        texture.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("size", (float)frame.Width, (float)frame.Height)
            .Set("scale", frame.Scale)
            .Set("point", double.IsFinite(InputDbfs) ? (float)Math.Clamp(1 - InputDbfs / FloorDb, 0, 1) : 0, 0)
            .Set("curveTone", frame.Theme, Tone.Output)
            .Set("pointTone", frame.Theme, Tone.Reduction)
            .Set("gridTone", frame.Theme, Tone.Grid)
            .Set("quietTone", frame.Theme, Tone.Quiet)
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
