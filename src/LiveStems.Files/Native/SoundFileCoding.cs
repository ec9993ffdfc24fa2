namespace LiveStems.Files.Native;

/// <summary>How libsndfile names containers and codings in SF_INFO.format (numbers of sndfile.h, from memory).</summary>
internal static class SoundFileCoding
{
    private const int ContainerMask = 0x0FFF0000;
    private const int CodingMask = 0x0000FFFF;

    /// <summary>Name of the container.</summary>
    internal static string Container(int format) => (format & ContainerMask) switch
    {
        0x010000 => "WAV",
        0x030000 => "AU",
        0x0B0000 => "W64",
        0x170000 => "FLAC",
        0x180000 => "CAF",
        0x200000 => "Ogg",
        0x230000 => "MP3",
        _ => "other",
    };

    /// <summary>Encoding and bits of a sample (0 where the coding has none), or null for one that is not taken.</summary>
    internal static (SampleEncoding Encoding, int Bits)? Coding(int format) => (format & CodingMask) switch
    {
        0x01 or 0x05 => (SampleEncoding.Integer, 8),
        0x02 or 0x70 => (SampleEncoding.Integer, 16),
        0x71 => (SampleEncoding.Integer, 20),
        0x03 or 0x72 => (SampleEncoding.Integer, 24),
        0x04 or 0x73 => (SampleEncoding.Integer, 32),
        0x06 => (SampleEncoding.Float, 32),
        0x07 => (SampleEncoding.Float, 64),
        0x60 or 0x64 or 0x80 or 0x81 or 0x82 => (SampleEncoding.Decoded, 0),
        _ => null,
    };
}
