namespace LiveStems.View.Plots;

/// <summary>A frequency axis on which equal distances are equal ratios.</summary>
/// <param name="LowestHz">Frequency at position 0, above 0.</param>
/// <param name="HighestHz">Frequency at position 1, above the lowest.</param>
public sealed record LogFrequencyAxis(double LowestHz, double HighestHz)
{
    private static readonly double[] Steps = [1, 2, 5];

    /// <summary>The whole range of hearing, 20 Hz to 20 kHz.</summary>
    public static LogFrequencyAxis Audible { get; } = new(20, 20_000);

    /// <summary>Position of a frequency, 0 at the lowest to 1 at the highest.</summary>
    public double ToPosition(double frequencyHz) => Math.Log(frequencyHz / LowestHz) / Math.Log(HighestHz / LowestHz);

    /// <summary>Frequency at a position, 0 to 1.</summary>
    public double ToFrequency(double position) => LowestHz * Math.Pow(HighestHz / LowestHz, position);

    /// <summary>Frequencies worth a mark: 1, 2 and 5 in every decade that lie on the axis.</summary>
    public IEnumerable<double> Marks() =>
        from decade in Enumerable.Range(0, 7)
        from step in Steps
        let frequency = step * Math.Pow(10, decade)
        where frequency >= LowestHz * 0.999 && frequency <= HighestHz * 1.001
        select frequency;

    /// <summary>A short label: "50", "2k".</summary>
    public static string Label(double frequencyHz) => frequencyHz >= 1000 ? $"{frequencyHz / 1000:0.#}k" : $"{frequencyHz:0}";
}
