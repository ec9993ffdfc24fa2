using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>Curves of a <see cref="SpectrumPlot"/>.</summary>
internal enum SpectrumCurve
{
    /// <summary>Sound as it comes out, filled.</summary>
    Output,

    /// <summary>Sound as it came in, a line; what was taken away between it and the output is tinted.</summary>
    Input,

    /// <summary>The highest so far.</summary>
    Peak,

    /// <summary>The long-term level.</summary>
    LongTerm,

    /// <summary>What is passed nine tenths of the time.</summary>
    Low,

    /// <summary>What is passed a tenth of the time.</summary>
    High,

    /// <summary>Gain, 0 dB hanging from the upper edge.</summary>
    Gain,

    /// <summary>Another stem, for comparison.</summary>
    Other,
}

/// <summary>Levels over logarithmic frequency, all curves in one pass of a shader over one texture.</summary>
internal sealed class SpectrumPlot(int points) : IPlot
{
    private const int CurveCount = 8;

    private const string Text = """
        uniform sampler2D data;
        uniform vec2 size;
        uniform vec2 range;
        uniform float scale;
        uniform float gainUnit;
        uniform int shown;
        uniform vec3 band;
        uniform vec3 outputTone;
        uniform vec3 inputTone;
        uniform vec3 gainTone;
        uniform vec3 otherTone;
        uniform vec3 quietTone;

        float at(float x, int row) {
            ivec2 last = textureSize(data, 0) - 1;
            float column = clamp(x * float(last.x + 1) - 0.5, 0.0, float(last.x));
            int left = int(column);
            return mix(texelFetch(data, ivec2(left, row), 0).r, texelFetch(data, ivec2(min(left + 1, last.x), row), 0).r, column - float(left));
        }

        float height(float x, int row) { return (at(x, row) - range.x) / (range.y - range.x) * size.y; }

        bool has(int row) { return (shown >> row & 1) == 1; }

        // Share of the pixel that a line of a width in pixels covers, over the whole of its column.
        float line(float here, float next, float y, float width) {
            float low = min(here, next) - width * 0.5;
            float high = max(here, next) + width * 0.5;
            return clamp(y + 0.5 - low, 0.0, 1.0) * clamp(high - y + 0.5, 0.0, 1.0);
        }

        void over(vec3 tone, float alpha) {
            colour = vec4(tone * alpha, alpha) + colour * (1.0 - alpha);
        }

        void main() {
            vec2 pixel = place * size;
            float x = place.x;
            float step = 1.0 / size.x;
            colour = vec4(0.0);
            if (has(4) && has(5)) {
                float inside = clamp(pixel.y - height(x, 4) + 0.5, 0.0, 1.0) * clamp(height(x, 5) - pixel.y + 0.5, 0.0, 1.0);
                over(quietTone, 0.16 * inside);
            }
            float outHere = height(x, 0);
            float outNext = height(x + step, 0);
            if (has(0)) {
                float below = clamp(outHere - pixel.y + 0.5, 0.0, 1.0);
                over(outputTone, below * mix(0.04, 0.30, clamp(pixel.y / size.y * 1.2, 0.0, 1.0)));
            }
            if (has(3)) { over(quietTone, 0.75 * line(height(x, 3), height(x + step, 3), pixel.y, 1.2 * scale)); }
            if (has(2)) { over(outputTone, 0.45 * line(height(x, 2), height(x + step, 2), pixel.y, scale)); }
            if (has(7)) {
                float other = height(x, 7);
                over(otherTone, 0.16 * clamp(other - pixel.y + 0.5, 0.0, 1.0));
                over(otherTone, 0.9 * line(other, height(x + step, 7), pixel.y, 1.2 * scale));
            }
            if (has(1)) {
                float here = height(x, 1);
                if (has(0)) {
                    float taken = clamp(here - pixel.y, 0.0, 1.0) * clamp(pixel.y - outHere, 0.0, 1.0);
                    over(gainTone, 0.30 * taken);
                }
                over(inputTone, 0.85 * line(here, height(x + step, 1), pixel.y, 1.2 * scale));
            }
            if (has(0)) { over(outputTone, line(outHere, outNext, pixel.y, 1.5 * scale)); }
            if (has(6)) {
                float here = size.y + at(x, 6) * gainUnit;
                float next = size.y + at(x + step, 6) * gainUnit;
                if (min(here, next) < size.y - 0.6) {
                    over(gainTone, 0.30 * clamp(pixel.y - here + 0.5, 0.0, 1.0));
                    over(gainTone, line(here, next, pixel.y, 1.5 * scale));
                }
            }
            if (band.z > 0.5 && (x < band.x || x > band.y)) { colour *= 0.35; }
        }
        """;

    private readonly float[] values = new float[points * CurveCount];
    private ShaderProgram? program;
    private DataTexture? texture;
    private int shown;
    private bool isChanged = true;

    /// <summary>Points of a curve, evenly over the logarithmic axis.</summary>
    public int Points => points;

    /// <summary>Levels at the lower and the upper edge in dB.</summary>
    public (double Bottom, double Top) RangeDb { get; set; } = (-96, 0);

    /// <summary>Pixels of the plot's height, as a share, that a decibel of gain takes.</summary>
    public double GainShareOfDb { get; set; } = 1.0 / 72;

    /// <summary>The band that is heard alone, as positions on the axis, or null.</summary>
    public (double Lower, double Upper)? Band { get; set; }

    /// <summary>Sets a curve; an empty one hides it.</summary>
    public void Set(SpectrumCurve curve, ReadOnlySpan<float> decibels)
    {
        int bit = 1 << (int)curve;
        shown = decibels.IsEmpty ? shown & ~bit : shown | bit;
        decibels.CopyTo(values.AsSpan((int)curve * points, points));
        isChanged = true;
    }

    public void Draw(in PlotFrame frame)
    {
        program ??= new ShaderProgram(frame.Gl, Text);
        texture ??= new DataTexture(frame.Gl, points, CurveCount);
        if (isChanged)
        {
            texture.Write(0, 0, points, values);
            isChanged = false;
        }

        texture.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("size", (float)frame.Width, (float)frame.Height)
            .Set("range", (float)RangeDb.Bottom, (float)RangeDb.Top)
            .Set("scale", frame.Scale)
            .Set("gainUnit", (float)(GainShareOfDb * frame.Height))
            .Set("shown", shown)
            .Set("band", (float)(Band?.Lower ?? 0), (float)(Band?.Upper ?? 1), Band is null ? 0 : 1)
            .Set("outputTone", frame.Theme, Tone.Output)
            .Set("inputTone", frame.Theme, Tone.Input)
            .Set("gainTone", frame.Theme, Tone.Reduction)
            .Set("otherTone", frame.Theme, Tone.Trouble)
            .Set("quietTone", frame.Theme, Tone.Quiet)
            .Draw();
    }

    public void Release(GL gl)
    {
        program?.Release();
        texture?.Release();
        program = null;
        texture = null;
        isChanged = true;
    }
}
