namespace LiveStems.Processing.Contract;

/// <summary>Everything there is to know about one parameter; declared once and used by files, commands and views.</summary>
/// <param name="Id">Stable name in albums and commands, with its unit: <c>thresholdDb</c>, <c>band3.frequencyHz</c>.</param>
/// <param name="Name">What a person reads: "Threshold".</param>
/// <param name="Unit">The unit of the value.</param>
/// <param name="Minimum">Lowest value, in the unit.</param>
/// <param name="Maximum">Highest value, in the unit.</param>
/// <param name="Default">Value of a new processor, in the unit.</param>
/// <param name="Taper">How travel maps to value.</param>
/// <param name="Description">One sentence that says what the parameter does to the sound.</param>
public sealed record ParameterSpec(
    string Id,
    string Name,
    ParameterUnit Unit,
    double Minimum,
    double Maximum,
    double Default,
    Taper Taper,
    string Description)
{
    /// <summary>Names of the values of a <see cref="ParameterUnit.Choice"/>, in order from 0; otherwise empty.</summary>
    public IReadOnlyList<string> Choices { get; private init; } = [];

    /// <summary>
    /// True when a change needs memory or another latency (look-ahead, oversampling, modes). Such a value is fixed when
    /// the processor is prepared; to change it the engine prepares a new processor and cross-fades to it.
    /// </summary>
    public bool IsStructural { get; init; }

    /// <summary>A switch that is off (0) or on (1).</summary>
    public static ParameterSpec Switch(string id, string name, bool isOn, string description) =>
        new(id, name, ParameterUnit.Switch, 0, 1, isOn ? 1 : 0, Taper.Stepped, description);

    /// <summary>A choice from named values; the default is the index of one of them.</summary>
    public static ParameterSpec Choice(string id, string name, IReadOnlyList<string> choices, int defaultIndex, string description) =>
        new(id, name, ParameterUnit.Choice, 0, choices.Count - 1, defaultIndex, Taper.Stepped, description) { Choices = choices };

    /// <summary>The nearest value that the parameter can take; NaN becomes the default.</summary>
    public double Clamp(double value)
    {
        if (double.IsNaN(value))
        {
            return Default;
        }

        double inside = Math.Clamp(value, Minimum, Maximum);
        return Taper == Taper.Stepped ? Math.Round(inside) : inside;
    }

    /// <summary>Position of a control, 0 to 1, for a value.</summary>
    public double ToTravel(double value)
    {
        double inside = Clamp(value);
        if (Maximum <= Minimum)
        {
            return 0;
        }

        return Taper == Taper.Logarithmic
            ? Math.Log(inside / Minimum) / Math.Log(Maximum / Minimum)
            : (inside - Minimum) / (Maximum - Minimum);
    }

    /// <summary>Value for the position of a control, 0 to 1.</summary>
    public double FromTravel(double travel)
    {
        double inside = Math.Clamp(travel, 0, 1);
        return Clamp(Taper == Taper.Logarithmic
            ? Minimum * Math.Pow(Maximum / Minimum, inside)
            : Minimum + inside * (Maximum - Minimum));
    }
}
