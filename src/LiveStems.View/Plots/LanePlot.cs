using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>
/// Lanes over one time axis: the level rises from the lower edge of a lane, the gain reduction hangs from its upper edge,
/// both in decibels, and the lane's meter stands at its right end. Where one correction is shown by itself, that of all
/// together stands fainter behind it.
/// </summary>
internal sealed class LanePlot : IPlot
{
    // Lanes are added to the texture by so many at a time.
    private const int LanesAtOnce = 64;

    private const int Depth = 4;
    private const double DeepestReductionDb = 18;
    private const int MeterColumns = 2;

    private const string Text = """
        uniform sampler2D data;
        uniform vec2 size;
        uniform float laneHeight;
        uniform float gap;
        uniform float scroll;
        uniform int lanes;
        uniform int chosen;
        uniform float now;
        uniform vec2 loop;
        uniform float width;
        uniform float scale;
        uniform float floorDb;
        uniform vec3 peakTone;
        uniform vec3 gainTone;
        uniform vec3 quietTone;
        uniform vec3 laneTone;
        uniform vec3 nowTone;
        uniform vec3 loopTone;
        uniform vec3 alarmTone;

        void over(vec3 tone, float alpha) { colour = vec4(tone * alpha, alpha) + colour * (1.0 - alpha); }

        void main() {
            float x = place.x * size.x;
            float down = size.y - place.y * size.y + scroll;
            int lane = int(floor(down / laneHeight));
            float room = laneHeight - gap;
            float y = room - mod(down, laneHeight);
            colour = vec4(0.0);
            if (lane >= lanes || y < 0.0) { return; }
            int last = textureSize(data, 0).x - 1;
            vec4 meter = texelFetch(data, ivec2(last, lane), 0);
            over(laneTone, lane == chosen ? 1.0 : 0.5);
            if (x < width) {
                vec4 levels = texelFetch(data, ivec2(int(x), lane), 0) * room;
                float heard = mix(0.35, 1.0, meter.y);
                float faded = mix(0.35, 1.0, meter.y) * (x <= now ? 1.0 : 0.72);
                over(peakTone, 0.34 * faded * clamp(levels.x - y + 0.5, 0.0, 1.0));
                over(peakTone, 0.55 * faded * clamp(levels.y - y + 0.5, 0.0, 1.0));
                over(gainTone, (meter.w > 0.5 ? 0.3 : 0.92) * heard * clamp(y - room + levels.z + 0.5, 0.0, 1.0) * step(0.01, levels.z));
                over(gainTone, 0.92 * heard * clamp(y - room + levels.w + 0.5, 0.0, 1.0) * step(0.01, levels.w));
                over(loopTone, x >= loop.x && x <= loop.y ? 0.13 : 0.0);
                over(nowTone, clamp(0.75 * scale + 0.5 - abs(x - now), 0.0, 1.0));
            } else {
                float into = x - width - 4.0 * scale;
                float whole = size.x - width - 8.0 * scale;
                float bar = step(abs(y - room * 0.5), room * 0.22) * step(0.0, into) * step(into, whole);
                over(quietTone, 0.16 * bar);
                over(into > whole * (1.0 + 1.0 / floorDb) ? alarmTone : peakTone, bar * mix(0.35, 1.0, meter.y) * clamp(meter.x * whole - into + 0.5, 0.0, 1.0));
                float hold = 1.0 - clamp(abs(into - meter.z * whole) - 0.5 * scale, 0.0, 1.0);
                over(nowTone, bar * hold * 0.8 * step(0.01, meter.z));
            }
        }
        """;

    private readonly List<Lane> levels = [];
    private float[] row = [];
    private ShaderProgram? program;
    private DataTexture? texture;
    private int textureLanes;
    private (double, double, double) drawn;

    public int Lanes
    {
        get;
        set
        {
            field = value;
            while (levels.Count < value)
            {
                levels.Add(new Lane());
            }
        }
    }

    public int Chosen { get; set; } = -1;

    /// <summary>Units a lane takes with the gap below it.</summary>
    public float LaneUnits { get; set; } = 26;

    /// <summary>Units scrolled down.</summary>
    public float ScrollUnits { get; set; }

    /// <summary>Width of the meters at the right end in units.</summary>
    public float MeterUnits { get; set; } = 84;

    /// <summary>What is shown of the song, 0 to 1.</summary>
    public (double From, double To) Span { get; set; } = (0, 1);

    /// <summary>Where it plays, 0 to 1.</summary>
    public double Now { get; set; }

    /// <summary>The loop, 0 to 1, or null.</summary>
    public (double From, double To)? Loop { get; set; }

    /// <summary>Level at the lower edge of a lane in dBFS.</summary>
    public double FloorDb { get; set; } = -48;

    /// <summary>Sets the levels of a lane over the whole song; the arrays are kept and must not change.</summary>
    /// <param name="lane">The lane.</param>
    /// <param name="peak">Peak levels in dBFS, in columns of equal length.</param>
    /// <param name="mean">Mean levels in dBFS.</param>
    /// <param name="reduction">Gain reduction in dB, 0 or below.</param>
    /// <param name="whole">Columns that the whole song takes, if it were all there.</param>
    public void Set(int lane, float[] peak, float[] mean, float[] reduction, double whole)
    {
        levels[lane].Peak = peak;
        levels[lane].Mean = mean;
        levels[lane].Reduction = reduction;
        levels[lane].Whole = whole;
        levels[lane].IsChanged = true;
    }

    /// <summary>
    /// Shows the gain reduction of one correction by itself, before that of all together: empty where it takes nothing away,
    /// null for all as one. The array is kept, and may change where <see cref="Change"/> says so.
    /// </summary>
    public void SetAlone(int lane, float[]? reduction)
    {
        if (!ReferenceEquals(levels[lane].Alone, reduction))
        {
            levels[lane].Alone = reduction;
            levels[lane].IsChanged = true;
        }
    }

    /// <summary>The gain reduction that is shown by itself in a lane; null for none.</summary>
    public IReadOnlyList<float>? Alone(int lane) => levels[lane].Alone;

    /// <summary>Takes in that columns of a lane have changed in place; the gain reduction of all together is asked for.</summary>
    public void Change(int lane, int first, int last, Func<int, float> reduction)
    {
        Lane changed = levels[lane];
        for (int column = first; column <= Math.Min(last, changed.Reduction.Length - 1); column++)
        {
            changed.Reduction[column] = reduction(column);
        }

        changed.Changed = changed.Changed is { } before ? (Math.Min(before.First, first), Math.Max(before.Last, last)) : (first, last);
    }

    /// <summary>Sets the meter of a lane in dBFS, and whether the lane is heard.</summary>
    public void SetMeter(int lane, double levelDbfs, double holdDbfs, bool isHeard) => levels[lane].Meter = ((float)Share(levelDbfs), (float)Share(holdDbfs), isHeard ? 1 : 0);

    public void Draw(in PlotFrame frame)
    {
        int width = Math.Max(1, frame.Width - (int)(MeterUnits * frame.Scale));
        program ??= new ShaderProgram(frame.Gl, Text);
        bool isNew = texture is null || texture.Columns != width + MeterColumns || textureLanes < Lanes;
        if (isNew)
        {
            texture?.Release();
            textureLanes = (Math.Max(1, Lanes) + LanesAtOnce - 1) / LanesAtOnce * LanesAtOnce;
            texture = new DataTexture(frame.Gl, width + MeterColumns, textureLanes, Depth);
            row = new float[(width + MeterColumns) * Depth];
        }

        isNew |= drawn != (Span.From, Span.To, FloorDb);
        drawn = (Span.From, Span.To, FloorDb);
        Span<float> meter = stackalloc float[Depth];
        for (int lane = 0; lane < Lanes; lane++)
        {
            if (isNew || levels[lane].IsChanged)
            {
                Rise(levels[lane], width, 0, width);
                texture!.Write(0, lane, width, row.AsSpan(0, width * Depth));
                levels[lane].IsChanged = false;
            }
            else if (levels[lane].Changed is { } columns)
            {
                double perColumn = width / ((Span.To - Span.From) * levels[lane].Whole);
                int left = (int)Math.Clamp((columns.First - Span.From * levels[lane].Whole) * perColumn - 1, 0, width - 1);
                int right = (int)Math.Clamp((columns.Last + 1 - Span.From * levels[lane].Whole) * perColumn + 2, left + 1, width);
                Rise(levels[lane], width, left, right);
                texture!.Write(left, lane, right - left, row.AsSpan(left * Depth, (right - left) * Depth));
            }

            levels[lane].Changed = null;

            (meter[0], meter[2], meter[1]) = levels[lane].Meter;
            meter[3] = levels[lane].Alone is null ? 0 : 1;
            texture!.Write(width + 1, lane, 1, meter);
        }

        double scale = width / (Span.To - Span.From);
        texture!.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("size", (float)frame.Width, (float)frame.Height)
            .Set("laneHeight", LaneUnits * frame.Scale)
            .Set("gap", 2 * frame.Scale)
            .Set("scroll", ScrollUnits * frame.Scale)
            .Set("lanes", Lanes)
            .Set("chosen", Chosen)
            .Set("now", (float)((Now - Span.From) * scale))
            .Set("loop", (float)(((Loop?.From ?? -2) - Span.From) * scale), (float)(((Loop?.To ?? -2) - Span.From) * scale))
            .Set("width", (float)width)
            .Set("scale", frame.Scale)
            .Set("floorDb", (float)FloorDb)
            .Set("peakTone", frame.Theme, Tone.Input)
            .Set("gainTone", frame.Theme, Tone.Reduction)
            .Set("quietTone", frame.Theme, Tone.Quiet)
            .Set("laneTone", frame.Theme, Tone.Panel)
            .Set("nowTone", frame.Theme, Tone.Text)
            .Set("loopTone", frame.Theme, Tone.Listen)
            .Set("alarmTone", frame.Theme, Tone.Alarm)
            .Draw();
    }

    public void Release(GL gl)
    {
        program?.Release();
        texture?.Release();
        program = null;
        texture = null;
    }

    private double Share(double dbfs) => double.IsFinite(dbfs) ? Math.Clamp(1 - dbfs / FloorDb, 0, 1.05) : 0;

    // The most of the columns that a pixel covers.
    private void Rise(Lane lane, int width, int left, int right)
    {
        double perPixel = (Span.To - Span.From) / width * lane.Whole;
        for (int x = left; x < right; x++)
        {
            int from = (int)(Span.From * lane.Whole + x * perPixel);
            int to = Math.Max(from + 1, (int)(Span.From * lane.Whole + (x + 1) * perPixel));
            double peak = double.NegativeInfinity;
            double mean = double.NegativeInfinity;
            double reduction = 0;
            double alone = 0;
            for (int i = from; i < Math.Min(to, lane.Peak.Length); i++)
            {
                peak = Math.Max(peak, lane.Peak[i]);
                mean = Math.Max(mean, lane.Mean[i]);
                reduction = i < lane.Reduction.Length ? Math.Min(reduction, lane.Reduction[i]) : reduction;
                alone = lane.Alone is { } own && i < own.Length ? Math.Min(alone, own[i]) : alone;
            }

            row[x * Depth] = (float)Math.Min(1, Share(peak));
            row[x * Depth + 1] = (float)Math.Min(1, Share(mean));
            row[x * Depth + 2] = (float)Math.Min(1, -reduction / DeepestReductionDb);
            row[x * Depth + 3] = (float)Math.Min(1, -alone / DeepestReductionDb);
        }
    }

    private sealed class Lane
    {
        public float[] Peak { get; set; } = [];

        public float[] Mean { get; set; } = [];

        public float[] Reduction { get; set; } = [];

        public float[]? Alone { get; set; }

        public double Whole { get; set; } = 1;

        public bool IsChanged { get; set; } = true;

        /// <summary>Columns that have changed in place.</summary>
        public (int First, int Last)? Changed { get; set; }

        public (float Level, float Hold, float IsHeard) Meter { get; set; } = (0, 0, 1);
    }
}
