using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>
/// In what a processor is tried: as a new one, with a key of its own where it listens to one, and with each value that only
/// another preparation can bring.
/// </summary>
/// <param name="Words">What stands behind a finding: "" for a new one, " with a key", " with lookAheadMs at its highest".</param>
/// <param name="HasKey">True when it hears a sound beside its own.</param>
internal sealed record VettingSituation(string Words, bool HasKey)
{
    // A processor with more to choose from is tried with the highest and lowest values of as many parameters as fit.
    private const int MostSettings = 16;

    // Of a choice, so many values between its ends.
    private const int MostBetween = 6;

    private int Parameter { get; init; } = -1;

    private double Value { get; init; }

    /// <summary>As a new one that hears itself.</summary>
    public static VettingSituation New { get; } = new(string.Empty, HasKey: false);

    /// <summary>As a new one: that hears itself, and that hears another where it listens to any.</summary>
    public static IReadOnlyList<VettingSituation> Plain(ProcessorDescription kind) =>
        kind.ListensToKey ? [New, new VettingSituation(" with a key", HasKey: true)] : [New];

    /// <summary>
    /// The plain ones, and each structural parameter at both ends of its range, the values of a choice one by one: bounded in
    /// number. With a key wherever it listens to one.
    /// </summary>
    public static IReadOnlyList<VettingSituation> All(ProcessorDescription kind)
    {
        int[] structural = [.. Enumerable.Range(0, kind.Parameters.Count).Where(index => kind.Parameters[index].IsStructural)];
        IEnumerable<(int Index, double Value)> highest = structural.Select(index => (index, kind.Parameters[index].Maximum));
        IEnumerable<(int Index, double Value)> lowest = structural.Select(index => (index, kind.Parameters[index].Minimum));
        IEnumerable<(int Index, double Value)> between = structural.SelectMany(index => Between(kind.Parameters[index]).Select(value => (index, value)));
        return
        [
            .. Plain(kind),
            .. highest.Concat(lowest).Concat(between)
                .Where(each => each.Value != kind.Parameters[each.Index].Default)
                .Distinct()
                .Take(MostSettings)
                .Select(each => new VettingSituation(WordsOf(kind.Parameters[each.Index], each.Value), kind.ListensToKey) { Parameter = each.Index, Value = each.Value }),
        ];
    }

    /// <summary>Sets what makes the situation; before the processor is prepared.</summary>
    public void Set(Processor processor)
    {
        if (Parameter >= 0)
        {
            processor.SetParameter(Parameter, Value);
        }
    }

    private static IEnumerable<double> Between(ParameterSpec spec) => spec.Taper == Taper.Stepped
        ? Enumerable.Range(1, (int)Math.Clamp(spec.Maximum - spec.Minimum - 1, 0, MostBetween)).Select(step => spec.Minimum + step)
        : [];

    private static string WordsOf(ParameterSpec spec, double value) =>
        spec.Choices.Count > 0 ? $" with {spec.Id} = {spec.Choices[(int)value]}"
        : value == spec.Maximum ? $" with {spec.Id} at its highest"
        : value == spec.Minimum ? $" with {spec.Id} at its lowest"
        : $" with {spec.Id} = {value}";
}
