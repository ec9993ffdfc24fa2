namespace LiveStems.Dsp.Filters;

/// <summary>What one band is asked to do.</summary>
/// <param name="Shape">The shape of the response.</param>
/// <param name="FrequencyHz">Centre, corner or pivot, above 0.</param>
/// <param name="GainDb">Gain of bell and shelves; of a tilt, the gain of the top over the bottom. The other shapes ignore it.</param>
/// <param name="Q">
/// Quality factor, above 0, by the Audio EQ Cookbook's conventions. Passes use it at order 2 only, where 1/√2 is
/// Butterworth; at every other order they are Butterworth.
/// </param>
/// <param name="Order">Order of low-pass and high-pass, 1 to 8: 6 dB an octave each. The other shapes ignore it.</param>
public readonly record struct FilterSettings(FilterShape Shape, double FrequencyHz, double GainDb, double Q, int Order);
