using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>Curves of a <see cref="SpectrumPlot"/>, in the order of the shader's numbers.</summary>
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

    /// <summary>Gain, hanging from the line of 0 dB or standing on it.</summary>
    Gain,

    /// <summary>Another stem, for comparison.</summary>
    Other,
}

/// <summary>
/// Levels over logarithmic frequency. The heights of all curves at every column of pixels are worked out here; the shader
/// paints them in one pass.
/// </summary>
internal sealed class SpectrumPlot(int points) : IPlot
{
    private const int CurveCount = 8;
    private const int Lanes = 4;
    private const int Rows = CurveCount / Lanes;
    private const float Hidden = -10_000;
    private const float Silence = -300;

    private const string Text = """
        uniform sampler2D data;
        uniform vec2 size;
        uniform float scale;
        uniform float gridUnit;
        uniform float gridStart;
        uniform float gainZero;
        uniform vec3 band;
        uniform vec3 outputTone;
        uniform vec3 inputTone;
        uniform vec3 gainTone;
        uniform vec3 raiseTone;
        uniform vec3 otherTone;
        uniform vec3 quietTone;
        uniform vec3 gridTone;

        // Share of the pixel that lines of a width in pixels cover, each over the whole of its column.
        vec4 line(vec4 here, vec4 next, float y, vec4 width) {
            vec4 low = min(here, next) - width * 0.5;
            vec4 high = max(here, next) + width * 0.5;
            return clamp(y + 0.5 - low, 0.0, 1.0) * clamp(high - y + 0.5, 0.0, 1.0);
        }

        void over(vec3 tone, float alpha) { colour = vec4(tone * alpha, alpha) + colour * (1.0 - alpha); }

        void main() {
            float y = place.y * size.y;
            ivec2 at = ivec2(int(place.x * size.x), 0);
            ivec2 beside = ivec2(min(at.x + 1, int(size.x) - 1), 0);
            vec4 first = texelFetch(data, at, 0);
            vec4 firstNext = texelFetch(data, beside, 0);
            vec4 second = texelFetch(data, at + ivec2(0, 1), 0);
            vec4 secondNext = texelFetch(data, beside + ivec2(0, 1), 0);
            vec4 lines = line(first, firstNext, y, vec4(1.5, 1.2, 1.0, 1.2) * scale);
            vec4 others = line(second, secondNext, y, vec4(1.0, 1.0, 1.5, 1.2) * scale);
            vec4 under = clamp(first - y + 0.5, 0.0, 1.0);
            vec4 below = clamp(second - y + 0.5, 0.0, 1.0);
            colour = vec4(0.0);
            over(gridTone, step(mod(size.y - y - gridStart, gridUnit), scale));
            over(quietTone, 0.16 * (1.0 - below.x) * below.y);
            over(outputTone, under.x * mix(0.04, 0.30, clamp(place.y * 1.2, 0.0, 1.0)));
            over(quietTone, 0.75 * lines.w);
            over(outputTone, 0.45 * lines.z);
            over(otherTone, max(0.16 * below.w, 0.9 * others.w));
            over(gainTone, 0.36 * under.y * (1.0 - under.x));
            over(inputTone, 0.85 * lines.y);
            over(outputTone, lines.x);
            float hang = step(second.z, gainZero - 0.6);
            over(gainTone, hang * max(0.30 * (1.0 - below.z) * step(y, gainZero), others.z));
            float stand = step(gainZero + 0.6, second.z) * step(second.z, size.y * 2.0);
            over(raiseTone, stand * max(0.30 * below.z * step(gainZero, y), others.z));
            if (band.z > 0.5 && (place.x < band.x || place.x > band.y)) { colour *= 0.35; }
        }
        """;

    private readonly float[][] curves = [.. Enumerable.Range(0, CurveCount).Select(_ => new float[points])];
    private readonly bool[] shown = new bool[CurveCount];
    private float[] heights = [];
    private ShaderProgram? program;
    private DataTexture? texture;
    private bool isChanged = true;

    /// <summary>Points of a curve, evenly over the logarithmic axis.</summary>
    public int Points => points;

    /// <summary>Levels at the lower and the upper edge in dB.</summary>
    public (double Bottom, double Top) RangeDb
    {
        get;
        set
        {
            field = value;
            isChanged = true;
        }
    }

    = (-96, 0);

    /// <summary>The part of the points that is shown, 0 to 1.</summary>
    public (double From, double To) Span { get; set; } = (0, 1);

    /// <summary>Share of the plot's height that a decibel of gain takes.</summary>
    public double GainShareOfDb { get; set; } = 1.0 / 72;

    /// <summary>Where 0 dB of gain stands, as a share of the height from above.</summary>
    public double GainZeroShare { get; set; }

    /// <summary>Decibels between two lines of the grid.</summary>
    public double GridDb { get; set; } = 12;

    /// <summary>The band that is heard alone, as positions on the plot, or null.</summary>
    public (double Lower, double Upper)? Band { get; set; }

    /// <summary>Sets a curve; an empty one hides it.</summary>
    public void Set(SpectrumCurve curve, ReadOnlySpan<float> decibels)
    {
        shown[(int)curve] = !decibels.IsEmpty;
        for (int i = 0; i < decibels.Length; i++)
        {
            // Silence is −∞, which has no height.
            curves[(int)curve][i] = Math.Max(decibels[i], Silence);
        }

        isChanged = true;
    }

    public void Draw(in PlotFrame frame)
    {
        program ??= new ShaderProgram(frame.Gl, Text);
        if (texture is null || texture.Columns != frame.Width)
        {
            texture?.Release();
            texture = new DataTexture(frame.Gl, frame.Width, Rows, Lanes);
            heights = new float[frame.Width * CurveCount];
            isChanged = true;
        }

        if (isChanged)
        {
            for (int curve = 0; curve < CurveCount; curve++)
            {
                Rise(curve, frame.Width, frame.Height);
            }

            texture.Write(0, 0, frame.Width, heights);
            isChanged = false;
        }

        double pixelsPerDb = frame.Height / (RangeDb.Top - RangeDb.Bottom);
        texture.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("size", (float)frame.Width, (float)frame.Height)
            .Set("scale", frame.Scale)
            .Set("gainZero", (float)((1 - GainZeroShare) * frame.Height))
            .Set("gridUnit", (float)(pixelsPerDb * GridDb))
            .Set("gridStart", (float)(pixelsPerDb * (RangeDb.Top - Math.Floor(RangeDb.Top / GridDb) * GridDb)))
            .Set("band", (float)(Band?.Lower ?? 0), (float)(Band?.Upper ?? 1), Band is null ? 0 : 1)
            .Set("outputTone", frame.Theme, Tone.Output)
            .Set("inputTone", frame.Theme, Tone.Input)
            .Set("gainTone", frame.Theme, Tone.Reduction)
            .Set("raiseTone", frame.Theme, Tone.Good)
            .Set("otherTone", frame.Theme, Tone.Trouble)
            .Set("quietTone", frame.Theme, Tone.Quiet)
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

    // What is not shown lies far below; a gain that is not shown far above.
    private void Rise(int curve, int width, int height)
    {
        Span<float> row = heights.AsSpan(curve / Lanes * width * Lanes);
        float[] values = curves[curve];
        bool isGain = curve == (int)SpectrumCurve.Gain;
        float unit = (float)(isGain ? GainShareOfDb * height : height / (RangeDb.Top - RangeDb.Bottom));
        float zero = (float)(isGain ? (1 - GainZeroShare) * height : -RangeDb.Bottom * unit);
        double perPixel = (Span.To - Span.From) * (points - 1) / Math.Max(1, width - 1);
        double start = Span.From * (points - 1);
        for (int x = 0; x < width; x++)
        {
            float result = isGain ? -Hidden : Hidden;
            if (shown[curve])
            {
                double at = Math.Clamp(start + x * perPixel, 0, points - 1.001);
                int left = (int)at;
                float share = (float)(at - left);
                result = zero + unit * (values[left] + share * (values[left + 1] - values[left]));
            }

            row[x * Lanes + curve % Lanes] = result;
        }
    }
}
