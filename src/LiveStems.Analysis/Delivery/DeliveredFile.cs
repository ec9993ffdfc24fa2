using LiveStems.Dsp.Loudness;

namespace LiveStems.Analysis.Delivery;

/// <summary>What a delivered file is.</summary>
public enum DeliveredKind
{
    /// <summary>A song's master.</summary>
    Master,

    /// <summary>Another version of a song.</summary>
    Alternate,

    /// <summary>A stem with everything that is done to it.</summary>
    TreatedStem,

    /// <summary>The album as one file.</summary>
    Continuous,
}

/// <summary>A file that passed the gate.</summary>
/// <param name="Name">Path inside the delivery, with '/'.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Song">Title of the song.</param>
/// <param name="Variant">Id of its format, alternate, or name of its stem.</param>
/// <param name="Sha256">SHA-256 of the file.</param>
/// <param name="Bytes">Length of the file.</param>
/// <param name="SampleRate">Frames per second.</param>
/// <param name="Frames">Length in frames.</param>
/// <param name="Bits">Bits of a sample.</param>
/// <param name="Loudness">Loudness and peaks as read back from the file.</param>
/// <param name="PreciseTruePeakDbtp">True peak by the sixteenfold method, as read back.</param>
/// <param name="Notes">What was noticed and does not stop it.</param>
public sealed record DeliveredFile(
    string Name,
    DeliveredKind Kind,
    string Song,
    string Variant,
    string Sha256,
    long Bytes,
    int SampleRate,
    long Frames,
    int Bits,
    LoudnessReport Loudness,
    double PreciseTruePeakDbtp,
    IReadOnlyList<string> Notes)
{
    /// <summary>Of an alternate: its correlation with the master, both with highs raised by 6 dB an octave, as they lie; null for all else.</summary>
    public double? CorrelationWithMaster { get; init; }
}
