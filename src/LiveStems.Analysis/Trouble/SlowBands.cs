using System.Numerics;
using LiveStems.Analysis.Spectra;

namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Power and highest line of every band of the grid, and power of narrow bands, over time, from long frames (0.68 s at
/// 48 kHz) in which partials are narrow lines.
/// </summary>
internal sealed class SlowBands : IPowerFrameSink
{
    /// <summary>Level of silence, dB.</summary>
    public const float SilenceDb = -160;

    private const double FrameSeconds = 0.68;
    private const int LargestFrame = 65_536;

    private readonly PowerFrames frames;
    private readonly float[] fine;
    private readonly float[] power;
    private readonly float[] line;

    public SlowBands(int sampleRate)
    {
        int size = Math.Min(LargestFrame, (int)BitOperations.RoundUpToPowerOf2((uint)(FrameSeconds * sampleRate * 0.71)));
        Grid = new TroubleGrid(sampleRate, size);
        Hum = new HumLines(sampleRate, size);
        frames = new PowerFrames(size, SpectrumChannel.Both, this);
        FineGrid = new FineGrid(sampleRate, size);
        fine = new float[FineGrid.Bands];
        power = new float[Grid.Bands];
        line = new float[Grid.Bands];
        double rowSeconds = (double)frames.HopFrames / sampleRate;
        FirstRowSeconds = rowSeconds - (double)size / sampleRate / 2;
        Fine = new TimeTable(FineGrid.Bands, rowSeconds);
        Power = new TimeTable(Grid.Bands, rowSeconds);
        Line = new TimeTable(Grid.Bands, rowSeconds);
    }

    public TroubleGrid Grid { get; }

    /// <summary>What never stops below 1 kHz.</summary>
    public HumLines Hum { get; }

    /// <summary>The narrow bands.</summary>
    public FineGrid FineGrid { get; }

    /// <summary>Mean level per bin of the narrow bands, dB of mean square.</summary>
    public TimeTable Fine { get; }

    /// <summary>Mean level per bin, dB.</summary>
    public TimeTable Power { get; }

    /// <summary>Level of the highest bin near the middle, dB.</summary>
    public TimeTable Line { get; }

    /// <summary>Middle of the first frame; the sound starts at 0.</summary>
    public double FirstRowSeconds { get; }

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => frames.Add(left, right);

    public void Finish() => frames.Finish();

    void IPowerFrameSink.Take(ReadOnlySpan<float> bins, bool isWhole)
    {
        for (int band = 0; band < Grid.Bands; band++)
        {
            int end = Math.Min(Grid.EndBin[band], bins.Length);
            ReadOnlySpan<float> own = bins[Grid.FirstBin[band]..end];
            power[band] = Db(Mean(own));
            line[band] = Db(Highest(bins[Grid.FirstLineBin[band]..Math.Min(Grid.EndLineBin[band], bins.Length)]));
        }

        FineGrid.Levels(bins, fine);
        if (isWhole)
        {
            Hum.Add(bins);
        }

        Fine.Add(fine);
        Power.Add(power);
        Line.Add(line);
    }

    private static float Mean(ReadOnlySpan<float> values)
    {
        float sum = 0;
        foreach (float value in values)
        {
            sum += value;
        }

        return sum / values.Length;
    }

    private static float Highest(ReadOnlySpan<float> values)
    {
        float highest = 0;
        foreach (float value in values)
        {
            highest = Math.Max(highest, value);
        }

        return highest;
    }

    internal static float Db(float power) => power > 1e-16f ? 10 * MathF.Log10(power) : SilenceDb;
}
