using LiveStems.Analysis.Spectra;

namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Levels of broad ranges over time and of the lines of mains hum, from frames of a sixth of a second.
/// </summary>
internal sealed class EndBands : IPowerFrameSink
{
    /// <summary>Edges of the ranges in Hz.</summary>
    public static readonly (double LowHz, double HighHz)[] Ranges =
    [
        (8, 40), (40, 60), (60, 20_000), (12_000, 15_000), (16_500, 20_500), (1000, 2000), (2500, 4500), (5500, 8000), (180, 350), (400, 2000), (60, 85),
        (100, 128), (70, 96), (135, 180),
    ];

    public const int Below = 0;
    public const int Lowest = 1;
    public const int Music = 2;
    public const int High = 3;
    public const int Top = 4;
    public const int UnderPresence = 5;
    public const int Presence = 6;
    public const int OverPresence = 7;
    public const int Thick = 8;
    public const int Clear = 9;
    public const int AboveLowest = 10;
    public const int Box = 11;
    public const int UnderBox = 12;
    public const int OverBox = 13;

    private const double FrameSeconds = 0.17;

    private readonly PowerFrames frames;
    private readonly int[] first;
    private readonly int[] end;
    private readonly float[] row = new float[Ranges.Length];

    public EndBands(int sampleRate)
    {
        int size = Math.Clamp((int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)(FrameSeconds * sampleRate * 0.71)), 64, 65_536);
        frames = new PowerFrames(size, SpectrumChannel.Both, this);
        double binHz = (double)sampleRate / size;
        first = [.. Ranges.Select(range => Math.Min(frames.Bins - 1, (int)Math.Ceiling(range.LowHz / binHz)))];
        end = [.. Ranges.Select(range => Math.Min(frames.Bins, (int)Math.Ceiling(range.HighHz / binHz)))];
        HasTop = 0.46 * sampleRate >= Ranges[Top].HighHz - 500;
        Levels = new TimeTable(Ranges.Length, (double)frames.HopFrames / sampleRate);
        FirstRowSeconds = Levels.RowSeconds - (double)size / sampleRate / 2;
    }

    /// <summary>True when the rate leaves room for the range at the top.</summary>
    public bool HasTop { get; }

    /// <summary>Level of each range, dB of mean square; a row a frame.</summary>
    public TimeTable Levels { get; }

    /// <summary>Middle of the first row.</summary>
    public double FirstRowSeconds { get; }

    /// <summary>From the level of a range to its mean level per Hz, dB.</summary>
    public static double PerHzDb(int range) => -10 * Math.Log10(Ranges[range].HighHz - Ranges[range].LowHz);

    /// <summary>Octaves that the bins of a range cover, as a level, dB: what pink noise has in it.</summary>
    public double OctavesDb(int range) => 10 * Math.Log10(Math.Max(0.01, Math.Log2((end[range] - 0.5) / Math.Max(0.5, first[range] - 0.5))));

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => frames.Add(left, right);

    public void Finish() => frames.Finish();

    void IPowerFrameSink.Take(ReadOnlySpan<float> bins, bool isWhole)
    {
        for (int range = 0; range < row.Length; range++)
        {
            float sum = 0;
            for (int bin = first[range]; bin < end[range]; bin++)
            {
                sum += bins[bin];
            }

            row[range] = sum > 1e-16f ? 10 * MathF.Log10(sum) : SlowBands.SilenceDb;
        }

        Levels.Add(row);
    }
}
