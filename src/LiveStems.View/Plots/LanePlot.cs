using LiveStems.View.Controls;
using LiveStems.View.Window;
using Silk.NET.OpenGL;

namespace LiveStems.View.Plots;

/// <summary>
/// Lanes over one time axis: the level rises from the lower edge of a lane, the gain reduction hangs from its upper edge,
/// both in decibels, and the lane's meter stands at its right end.
/// </summary>
internal sealed class LanePlot(int columns) : IPlot
{
    /// <summary>Most lanes of a song.</summary>
    public const int MostLanes = 64;

    private const int RowsPerLane = 3;
    private const int MeterRow = MostLanes * RowsPerLane;

    private const string Text = """
        uniform sampler2D data;
        uniform vec2 size;
        uniform float laneHeight;
        uniform float gap;
        uniform float scroll;
        uniform int lanes;
        uniform int chosen;
        uniform vec2 span;
        uniform float now;
        uniform vec2 loop;
        uniform float meterWidth;
        uniform float floorDb;
        uniform vec3 peakTone;
        uniform vec3 gainTone;
        uniform vec3 quietTone;
        uniform vec3 laneTone;
        uniform vec3 nowTone;
        uniform vec3 loopTone;
        uniform vec3 alarmTone;

        void over(vec3 tone, float alpha) {
            colour = vec4(tone * alpha, alpha) + colour * (1.0 - alpha);
        }

        float most(int row, float from, float to) {
            int last = textureSize(data, 0).x - 1;
            int first = clamp(int(from), 0, last);
            int end = clamp(int(to), first, min(last, first + 7));
            float value = texelFetch(data, ivec2(first, row), 0).r;
            for (int i = first + 1; i <= end; i++) { value = max(value, texelFetch(data, ivec2(i, row), 0).r); }
            return value;
        }

        void main() {
            vec2 pixel = vec2(place.x * size.x, size.y - place.y * size.y + scroll);
            int lane = int(floor(pixel.y / laneHeight));
            float y = laneHeight - gap - mod(pixel.y, laneHeight);
            float room = laneHeight - gap;
            colour = vec4(0.0);
            if (lane >= lanes || y < 0.0) { return; }
            float state = texelFetch(data, ivec2(lane, MeterRow), 0).r;
            bool isHeard = state > 0.5;
            over(laneTone, lane == chosen ? 0.95 : 0.45);
            float width = size.x - meterWidth;
            if (pixel.x < width) {
                float perPixel = (span.y - span.x) / width * float(textureSize(data, 0).x);
                float column = span.x * float(textureSize(data, 0).x) + pixel.x * perPixel;
                float next = column + max(perPixel, 0.001);
                float peak = most(lane * 3, column, next);
                float mean = most(lane * 3 + 1, column, next);
                float gain = most(lane * 3 + 2, column, next);
                float faded = isHeard ? 1.0 : 0.35;
                float time = span.x + pixel.x / width * (span.y - span.x);
                float played = time <= now ? 1.0 : 0.72;
                float top = clamp(1.0 - peak / floorDb, 0.0, 1.0) * room;
                over(peakTone, 0.34 * faded * played * clamp(top - y + 0.5, 0.0, 1.0));
                float body = clamp(1.0 - mean / floorDb, 0.0, 1.0) * room;
                over(peakTone, 0.55 * faded * played * clamp(body - y + 0.5, 0.0, 1.0));
                float hang = room - clamp(gain / 18.0, 0.0, 1.0) * room;
                over(gainTone, 0.92 * faded * clamp(y - hang + 0.5, 0.0, 1.0) * step(0.02, gain));
                if (loop.y > loop.x && time >= loop.x && time <= loop.y) { over(loopTone, 0.12); }
            } else if (pixel.x > width + 3.0) {
                float level = clamp(1.0 - texelFetch(data, ivec2(lane, MeterRow + 1), 0).r / floorDb, 0.0, 1.0) * (meterWidth - 6.0);
                float into = pixel.x - width - 3.0;
                float bar = step(room * 0.30, y) * step(y, room * 0.70);
                over(quietTone, 0.14 * bar);
                over(into > (1.0 + 1.0 / floorDb) * (meterWidth - 6.0) ? alarmTone : peakTone, bar * clamp(level - into + 0.5, 0.0, 1.0));
            }
            float line = (now - span.x) / (span.y - span.x) * width;
            over(nowTone, pixel.x < width ? clamp(1.25 - abs(pixel.x - line), 0.0, 1.0) : 0.0);
        }
        """;

    private readonly float[] meters = new float[MostLanes * 2];
    private readonly Queue<(int Row, int Column, float[] Values)> writes = new();
    private ShaderProgram? program;
    private DataTexture? texture;
    private float[] kept = Silence(columns);

    /// <summary>Columns of the time axis from the start to the end of the song.</summary>
    public int Columns => columns;

    public int Lanes { get; set; }

    public int Chosen { get; set; } = -1;

    /// <summary>Units a lane takes with the gap below it.</summary>
    public float LaneUnits { get; set; } = 26;

    /// <summary>Units scrolled down.</summary>
    public float ScrollUnits { get; set; }

    /// <summary>Width of the meters at the right end in units.</summary>
    public float MeterUnits { get; set; } = 90;

    /// <summary>What is shown of the song, 0 to 1.</summary>
    public (double From, double To) Span { get; set; } = (0, 1);

    /// <summary>Where it plays, 0 to 1.</summary>
    public double Now { get; set; }

    /// <summary>The loop, 0 to 1, or null.</summary>
    public (double From, double To)? Loop { get; set; }

    /// <summary>Level at the lower edge of a lane in dBFS.</summary>
    public double FloorDb { get; set; } = -48;

    /// <summary>Forgets all levels.</summary>
    public void Clear()
    {
        kept = Silence(columns);
        writes.Clear();
        writes.Enqueue((0, 0, kept));
    }

    /// <summary>Sets levels of a lane from a column on: peak and mean level in dBFS, gain reduction in dB, above 0.</summary>
    public void Set(int lane, int column, ReadOnlySpan<float> peak, ReadOnlySpan<float> mean, ReadOnlySpan<float> reduction)
    {
        Put(lane * RowsPerLane, column, peak);
        Put(lane * RowsPerLane + 1, column, mean);
        Put(lane * RowsPerLane + 2, column, reduction);
    }

    /// <summary>Sets the meter of a lane in dBFS, and whether the lane is heard.</summary>
    public void SetMeter(int lane, float levelDbfs, bool isHeard)
    {
        meters[lane] = isHeard ? 1 : 0;
        meters[MostLanes + lane] = Math.Max(levelDbfs, -200);
    }

    public void Draw(in PlotFrame frame)
    {
        program ??= new ShaderProgram(frame.Gl, Text.Replace("MeterRow", MeterRow.ToString(System.Globalization.CultureInfo.InvariantCulture), StringComparison.Ordinal));
        if (texture is null)
        {
            texture = new DataTexture(frame.Gl, columns, MeterRow + 2);
            writes.Clear();
            texture.Write(0, 0, columns, kept);
        }

        while (writes.TryDequeue(out (int Row, int Column, float[] Values) write))
        {
            texture.Write(write.Column, write.Row, ReferenceEquals(write.Values, kept) ? columns : write.Values.Length, write.Values);
        }

        texture.Write(0, MeterRow, MostLanes, meters);
        texture.Bind(0);
        program.Use()
            .Set("data", 0)
            .Set("size", (float)frame.Width, (float)frame.Height)
            .Set("laneHeight", LaneUnits * frame.Scale)
            .Set("gap", 2 * frame.Scale)
            .Set("scroll", ScrollUnits * frame.Scale)
            .Set("lanes", Lanes)
            .Set("chosen", Chosen)
            .Set("span", (float)Span.From, (float)Span.To)
            .Set("now", (float)Now)
            .Set("loop", (float)(Loop?.From ?? 0), (float)(Loop?.To ?? 0))
            .Set("meterWidth", MeterUnits * frame.Scale)
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

    private static float[] Silence(int columns)
    {
        float[] rows = new float[columns * MeterRow];
        for (int row = 0; row < MeterRow; row++)
        {
            if (row % RowsPerLane != RowsPerLane - 1)
            {
                rows.AsSpan(row * columns, columns).Fill(-200);
            }
        }

        return rows;
    }

    private void Put(int row, int column, ReadOnlySpan<float> values)
    {
        values.CopyTo(kept.AsSpan(row * columns + column, values.Length));
        if (texture is not null && values.Length > 0)
        {
            writes.Enqueue((row, column, values.ToArray()));
        }
    }
}
