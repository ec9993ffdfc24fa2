using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>A correction as it stands on the spectrum: two edges, a top, and what moving them sets.</summary>
/// <param name="Processor">The processor.</param>
/// <param name="Prefix">What the ids of its parameters begin with: "band3.".</param>
/// <param name="LowerHz">Left edge.</param>
/// <param name="UpperHz">Right edge.</param>
/// <param name="TopDb">Height of the top, above or below 0 dB.</param>
/// <param name="Name">What it is called on the plot.</param>
internal sealed record CorrectionBracket(ProcessorModel Processor, string Prefix, double LowerHz, double UpperHz, double TopDb, string Name)
{
    /// <summary>How far the present action has brought it, for dynamic ones; null for others.</summary>
    public double? NowDb { get; init; }

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

    /// <summary>True to turn heights over: a range that counts how far down.</summary>
    public bool IsDownward { get; init; }

    /// <summary>Everything that stands for a processor on the spectrum.</summary>
    public static IEnumerable<CorrectionBracket> Of(ProcessorModel processor)
    {
        if (processor.IsBypassed || processor.Description is null)
        {
            return [];
        }

        return processor.Slot.Processor switch
        {
            "equaliser" => Enumerable.Range(1, 12).Select(band => OfBand(processor, $"band{band}.", $"{band}")).OfType<CorrectionBracket>(),
            "resonance-suppressor" => OfEdges(processor, "lowHz", "highHz", "deepestCutDb"),
            "de-esser" when processor.Parameter("frequencyHz") is { } split =>
                [new(processor, string.Empty, split.Value, 20_000, -Math.Abs(processor.Parameter("rangeDb")?.Value ?? 6), processor.Name) { Lower = split, Height = processor.Parameter("rangeDb"), IsDownward = true, NowDb = processor.ReductionDb }],
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
                IsDownward = height?.Spec.Maximum > 0,
                NowDb = processor.ReductionDb,
            };
        }
    }

    private static CorrectionBracket? OfBand(ProcessorModel processor, string prefix, string name)
    {
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
        bool isDynamic = processor.Parameter(prefix + "dynamic") is { Value: >= 0.5 };
        double range = isDynamic ? processor.Parameter(prefix + "rangeDb")?.Value ?? 0 : 0;
        (double low, double high, double top) = kind switch
        {
            "low-pass" => (at, 20_000, -18),
            "high-pass" => (20, at, -18),
            "low-shelf" => (20, at, gain.Value),
            "high-shelf" => (at, 20_000, gain.Value),
            "notch" => (at / half, at * half, -24),
            "tilt" => (20, 20_000, gain.Value / 2),
            _ => (at / half, at * half, gain.Value),
        };
        bool isBell = kind is "bell" or "notch";
        bool isPass = kind is "low-pass" or "high-pass" or "notch";
        return new(processor, prefix, low, high, top + range, name)
        {
            Centre = centre,
            Q = isBell ? q : null,
            Height = isPass ? null : isDynamic && range != 0 ? processor.Parameter(prefix + "rangeDb") : gain,
            Lower = kind is "low-pass" or "high-shelf" ? centre : null,
            Upper = kind is "high-pass" or "low-shelf" ? centre : null,
        };
    }

    /// <summary>Bandwidth in octaves between the points of half the gain in dB: bw = 2/ln2 · asinh(1/(2Q)) (RBJ cookbook).</summary>
    public static double OctavesOfQ(double q) => 2 / Math.Log(2) * Math.Asinh(1 / (2 * q));

    /// <summary>The Q of a bandwidth in octaves.</summary>
    public static double QOfOctaves(double octaves) => 1 / (2 * Math.Sinh(Math.Log(2) / 2 * octaves));
}
