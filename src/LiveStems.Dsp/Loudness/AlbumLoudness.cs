namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Loudness of several programmes as one, whatever their sample rates: gating (ITU-R BS.1770-5 Annex 1) and loudness range
/// (EBU Tech 3342) over the blocks of all of them. Memory does not grow.
/// </summary>
public sealed class AlbumLoudness
{
    private readonly GatedLoudness gated = new();
    private readonly LoudnessRange range = new();

    /// <summary>Integrated loudness in LUFS; −∞ when no block passes the gates.</summary>
    public double IntegratedLufs => gated.Lufs;

    /// <summary>Loudness range in LU.</summary>
    public double LoudnessRangeLu => range.Lu;

    /// <summary>Adds the loudness of 400 ms; one every 100 ms.</summary>
    public void AddMomentary(double lufs) => gated.Add(LoudnessScale.ToMeanSquare(lufs));

    /// <summary>Adds the loudness of 3 s; one every 100 ms.</summary>
    public void AddShortTerm(double lufs) => range.Add(LoudnessScale.ToMeanSquare(lufs));
}
