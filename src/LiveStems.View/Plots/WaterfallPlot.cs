using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>Levels over logarithmic frequency as they went by, the newest at the lower edge; a ring of rows.</summary>
internal sealed class WaterfallPlot(int points, int rows) : IPlot
{
    private const string Text = """
        uniform sampler2D data;
        uniform float newest;
        uniform vec2 range;
        uniform vec2 span;
        uniform vec3 low;
        uniform vec3 middle;
        uniform vec3 high;
        void main() {
            ivec2 count = textureSize(data, 0);
            float back = place.y * float(count.y - 1);
            int row = (int(newest) - int(back) + count.y) % count.y;
            float column = clamp(mix(span.x, span.y, place.x) * float(count.x) - 0.5, 0.0, float(count.x - 1));
            int left = int(column);
            float value = mix(texelFetch(data, ivec2(left, row), 0).r, texelFetch(data, ivec2(min(left + 1, count.x - 1), row), 0).r, column - float(left));
            float share = clamp((value - range.x) / (range.y - range.x), 0.0, 1.0);
            share *= share;
            vec3 tone = share < 0.5 ? mix(low, middle, share * 2.0) : mix(middle, high, share * 2.0 - 1.0);
            colour = vec4(tone, 1.0);
        }
        """;

    private readonly float[] waiting = new float[points];
    private ShaderProgram? program;
    private DataTexture? texture;
    private int newest;
    private bool hasWaiting;

    /// <summary>Levels of the faintest and the strongest colour in dB.</summary>
    public (double Bottom, double Top) RangeDb { get; set; } = (-90, -12);

    /// <summary>The part of the points that is shown, 0 to 1.</summary>
    public (double From, double To) Span { get; set; } = (0, 1);

    /// <summary>The next row; to be drawn before the one after it comes.</summary>
    public void Add(ReadOnlySpan<float> decibels)
    {
        for (int i = 0; i < decibels.Length; i++)
        {
            waiting[i] = Math.Max(decibels[i], -200);
        }

        hasWaiting = true;
    }

    public void Draw(in PlotFrame frame)
    {
        program ??= new ShaderProgram(frame.Gl, Text);
        if (texture is null)
        {
            texture = new DataTexture(frame.Gl, points, rows);
            float[] silence = new float[points * rows];
            Array.Fill(silence, -200);
            texture.Write(0, 0, points, silence);
        }

        if (hasWaiting)
        {
            newest = (newest + 1) % rows;
            texture.Write(0, newest, points, waiting);
            hasWaiting = false;
        }

        texture.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("newest", (float)newest)
            .Set("range", (float)RangeDb.Bottom, (float)RangeDb.Top)
            .Set("span", (float)Span.From, (float)Span.To)
            .Set("low", frame.Theme, Tone.Well)
            .Set("middle", frame.Theme, Tone.Input)
            .Set("high", frame.Theme, Tone.Output)
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
