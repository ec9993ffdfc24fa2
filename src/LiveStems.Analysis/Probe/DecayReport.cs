namespace LiveStems.Analysis.Probe;

/// <summary>Reverberation time in one octave.</summary>
/// <param name="FrequencyHz">Centre of the octave.</param>
/// <param name="Seconds">T20 of ISO 3382: seconds for 60 dB, from the fall between −5 and −25 dB.</param>
public readonly record struct OctaveDecay(double FrequencyHz, double Seconds);

/// <summary>How dense the echoes are in a stretch of 20 ms.</summary>
/// <param name="Seconds">Middle of the stretch, since the sound itself.</param>
/// <param name="Density">Beside noise, which has 1: well below stand single echoes.</param>
public readonly record struct EchoDensityPoint(double Seconds, double Density);

/// <summary>How sound dies away in what reverberates.</summary>
/// <param name="Octaves">Reverberation times, 250 Hz to 4 kHz.</param>
/// <param name="EchoDensity">Density of the echoes over the first 200 ms.</param>
/// <param name="DenseFromSeconds">From when on the echoes are as dense as noise (0.9), or null where they never are in that time.</param>
/// <param name="ModesPerHertz">How many modes share a hertz, where what is probed knows it.</param>
public sealed record DecayReport(
    IReadOnlyList<OctaveDecay> Octaves, IReadOnlyList<EchoDensityPoint> EchoDensity, double? DenseFromSeconds, double? ModesPerHertz)
{
    /// <summary>
    /// Modes a hertz from which on none is heard alone: 0.15 for each second of reverberation, the longest of
    /// <see cref="Octaves"/> (common practice).
    /// </summary>
    public double ModesNeededPerHertz => 0.15 * Octaves.Max(octave => octave.Seconds);
}
