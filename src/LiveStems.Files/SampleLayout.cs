namespace LiveStems.Files;

/// <summary>How one sample lies in a file's bytes.</summary>
/// <param name="IsFloat">IEEE 754 of 4 or 8 bytes; else a whole number of 1 to 4 bytes, its highest bit the sign.</param>
/// <param name="Bytes">Bytes of one sample.</param>
/// <param name="IsBigEndian">The most significant byte comes first.</param>
/// <param name="IsOffsetBinary">Silence is half of the range, as in 8-bit WAV, and not zero.</param>
internal readonly record struct SampleLayout(bool IsFloat, int Bytes, bool IsBigEndian = false, bool IsOffsetBinary = false)
{
    /// <summary>Where in a sample its byte of a rank lies; rank 0 is the most significant.</summary>
    internal int ByteOfRank(int rank) => IsBigEndian ? rank : Bytes - 1 - rank;
}
