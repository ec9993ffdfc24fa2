namespace LiveStems.Files;

/// <summary>How a file stores its samples.</summary>
public enum SampleEncoding
{
    /// <summary>Whole numbers of 8, 16, 24 or 32 bits, full scale 2^(bits−1).</summary>
    Integer,

    /// <summary>IEEE 754 numbers of 32 or 64 bits, full scale ±1.</summary>
    Float,

    /// <summary>Anything else that a library decodes for us (lossy codecs).</summary>
    Decoded,
}
