namespace LiveStems.App.Demo;

/// <summary>Something wrong with a stem, put there on purpose.</summary>
/// <param name="Stem">Name of the stem.</param>
/// <param name="Text">What is wrong, in plain words.</param>
/// <param name="LowHz">Lower edge of where it is.</param>
/// <param name="HighHz">Upper edge of where it is.</param>
/// <param name="StartSeconds">When it begins.</param>
/// <param name="EndSeconds">When it ends.</param>
internal sealed record DemoFault(
    string Stem, string Text, double LowHz, double HighHz, double StartSeconds, double EndSeconds)
{
    /// <summary>Middle of the band on a logarithmic scale.</summary>
    public double FrequencyHz => Math.Sqrt(LowHz * HighHz);
}
