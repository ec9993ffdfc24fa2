namespace LiveStems.Analysis.Spectra;

/// <summary>
/// What one band holds over a whole sound. Levels are in dBFS by AES17 (a sine of full scale reads 0), −∞ for silence.
/// </summary>
/// <param name="Band">The band.</param>
/// <param name="MeanDbfs">Level of the mean power.</param>
/// <param name="MaximumDbfs">Highest level of one eighth of a second (one frame, where that is longer).</param>
/// <param name="Percentile10Dbfs">Level that a tenth of the time lies below; NaN where the sound is shorter than a frame.</param>
/// <param name="Percentile50Dbfs">Level that half of the time lies below.</param>
/// <param name="Percentile90Dbfs">Level that nine tenths of the time lie below.</param>
/// <param name="Percentile99Dbfs">Level that 99 hundredths of the time lie below.</param>
/// <param name="CrestDb">Largest sample over root mean square of the filtered band; null where it was not asked for.</param>
public sealed record BandLevel(
    OctaveBand Band,
    double MeanDbfs,
    double MaximumDbfs,
    double Percentile10Dbfs,
    double Percentile50Dbfs,
    double Percentile90Dbfs,
    double Percentile99Dbfs,
    double? CrestDb);
