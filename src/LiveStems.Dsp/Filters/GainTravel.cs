namespace LiveStems.Dsp.Filters;

/// <summary>A gain that a band adds to its own and that moves with the sound.</summary>
/// <param name="RangeDb">The most that is added, dB; below 0 it is taken away.</param>
/// <param name="Share">How much of it is added now, 0 to 1.</param>
public readonly record struct GainTravel(double RangeDb, double Share)
{
    /// <summary>What is added now, dB.</summary>
    public double GainDb => RangeDb * Share;
}
