using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>
/// A correction as it stands on the spectrum: two edges from its foot to its top, and what moving them sets. The top is how far
/// it may go; the foot is 0 dB, or the gain from which a band that moves with the sound begins.
/// </summary>
/// <param name="Processor">The processor.</param>
/// <param name="Prefix">What the ids of its parameters begin with: "band3.".</param>
/// <param name="LowerHz">Left edge.</param>
/// <param name="UpperHz">Right edge.</param>
/// <param name="TopDb">Height of the top, above or below 0 dB.</param>
/// <param name="Name">What it is called on the plot.</param>
internal sealed record CorrectionBracket(ProcessorModel Processor, string Prefix, double LowerHz, double UpperHz, double TopDb, string Name)
{
    /// <summary>Height of the foot, above or below 0 dB.</summary>
    public double FootDb { get; init; }

    /// <summary>How far above (or below) its foot the sound has brought it at present, in dB; null for what stands still.</summary>
    public Func<double>? ActionDb { get; init; }

    /// <summary>True for what raises.</summary>
    public bool IsUpward => TopDb > FootDb;

    /// <summary>Parameter of the centre; null where the edges are parameters themselves.</summary>
    public ValueField? Centre { get; init; }

    /// <summary>Parameter of the narrowness as Q.</summary>
    public ValueField? Q { get; init; }

    /// <summary>Parameter of the height.</summary>
    public ValueField? Height { get; init; }

    /// <summary>Parameter of the left edge.</summary>
    public ValueField? Lower { get; init; }

    /// <summary>Parameter of the right edge.</summary>
    public ValueField? Upper { get; init; }

    /// <summary>How many decibels the top moves for one of <see cref="Height"/>: −1 for a range that counts how far down.</summary>
    public double TopPerHeight { get; init; } = 1;

    /// <summary>The value of <see cref="Height"/> that brings the top to a height in dB.</summary>
    public double HeightFor(double topDb) => (topDb - FootDb) / TopPerHeight;

    /// <summary>Everything that stands for a processor on the spectrum.</summary>
    public static IEnumerable<CorrectionBracket> Of(ProcessorModel processor)
    {
        if (processor.IsBypassed || processor.Description is null)
        {
            return [];
        }

        return processor.Slot.Processor switch
        {
            "equaliser" => Enumerable.Range(1, 12).Select(band => OfBand(processor, band)).OfType<CorrectionBracket>(),
            "resonance-suppressor" => OfEdges(processor, "lowHz", "highHz", "deepestCutDb"),
            "de-esser" when processor.Parameter("frequencyHz") is { } split =>
                [new(processor, string.Empty, split.Value, 20_000, -Math.Abs(processor.Parameter("rangeDb")?.Value ?? 6), processor.Name) { Lower = split, Height = processor.Parameter("rangeDb"), TopPerHeight = -1, ActionDb = () => processor.ReductionDb }],
            _ => [],
        };
    }

    private static IEnumerable<CorrectionBracket> OfEdges(ProcessorModel processor, string lower, string upper, string depth)
    {
        if (processor.Parameter(lower) is { } low && processor.Parameter(upper) is { } high)
        {
            ValueField? height = processor.Parameter(depth);
            yield return new(processor, string.Empty, low.Value, high.Value, -Math.Abs(height?.Value ?? 6), processor.Name)
            {
                Lower = low,
                Upper = high,
                Height = height,
                TopPerHeight = height?.Spec.Maximum > 0 ? -1 : 1,
                ActionDb = () => processor.ReductionDb,
            };
        }
    }

    private static CorrectionBracket? OfBand(ProcessorModel processor, int band)
    {
        string prefix = $"band{band}.";
        if (processor.Parameter(prefix + "on") is not { Value: >= 0.5 }
            || processor.Parameter(prefix + "frequencyHz") is not { } centre
            || processor.Parameter(prefix + "q") is not { } q
            || processor.Parameter(prefix + "gainDb") is not { } gain
            || processor.Parameter(prefix + "shape") is not { } shape)
        {
            return null;
        }

        double at = centre.Value;
        string kind = shape.Choices[(int)shape.Value];
        double half = Math.Pow(2, OctavesOfQ(q.Value) / 2);
        bool isBell = kind is "bell" or "notch";
        bool isPass = kind is "low-pass" or "high-pass" or "notch";

        // Passes and notch stand still whatever is set; the top of a tilt rises by half its gain.
        ValueField? range = !isPass && processor.Parameter(prefix + "dynamic") is { Value: >= 0.5 } ? processor.Parameter(prefix + "rangeDb") : null;
        bool moves = range is { Value: not 0 };
        double topPerGain = kind == "tilt" ? 0.5 : 1;
        (double low, double high, double top) = kind switch
        {
            "low-pass" => (at, 20_000, -18),
            "high-pass" => (20, at, -18),
            "low-shelf" => (20, at, gain.Value),
            "high-shelf" => (at, 20_000, gain.Value),
            "notch" => (at / half, at * half, -24),
            "tilt" => (20, 20_000, topPerGain * gain.Value),
            _ => (at / half, at * half, gain.Value),
        };
        return new(processor, prefix, low, high, top + (moves ? topPerGain * range!.Value : 0), $"{band}")
        {
            FootDb = moves ? top : 0,
            ActionDb = moves ? () => topPerGain * processor.BandActionDb(band - 1) : null,
            TopPerHeight = topPerGain,
            Centre = centre,
            Q = isBell ? q : null,
            Height = isPass ? null : moves ? range : gain,
            Lower = kind is "low-pass" or "high-shelf" ? centre : null,
            Upper = kind is "high-pass" or "low-shelf" ? centre : null,
        };
    }

    /// <summary>Bandwidth in octaves between the points of half the gain in dB: bw = 2/ln2 · asinh(1/(2Q)) (RBJ cookbook).</summary>
    public static double OctavesOfQ(double q) => 2 / Math.Log(2) * Math.Asinh(1 / (2 * q));

    /// <summary>The Q of a bandwidth in octaves.</summary>
    public static double QOfOctaves(double octaves) => 1 / (2 * Math.Sinh(Math.Log(2) / 2 * octaves));
}
