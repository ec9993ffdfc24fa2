using System.Buffers.Binary;

namespace LiveStems.Files.Reading;

/// <summary>The 'COMM' chunk of an AIFF file; AIFC adds how the samples are coded.</summary>
/// <param name="Channels">Channels as stated.</param>
/// <param name="Frames">Frames as stated.</param>
/// <param name="Bits">Bits of a sample as stated.</param>
/// <param name="SampleRate">Frames per second as stated.</param>
/// <param name="Coding">Four letters: 'NONE' for plain AIFF.</param>
internal readonly record struct AiffCommonChunk(int Channels, long Frames, int Bits, double SampleRate, uint Coding)
{
    private const uint None = 0x4E4F4E45;

    /// <summary>Bits of a sample that carry sound; some codings have a number of their own whatever is stated.</summary>
    internal int ValidBits => Fixed?.Bytes * 8 ?? Bits;

    /// <summary>Codings that fix the form of a sample. 'raw ' is whole numbers with silence at half of the range.</summary>
    private SampleLayout? Fixed => CodingName switch
    {
        "fl32" or "FL32" => new SampleLayout(IsFloat: true, 4, IsBigEndian: true),
        "fl64" or "FL64" => new SampleLayout(IsFloat: true, 8, IsBigEndian: true),
        "in24" => new SampleLayout(IsFloat: false, 3, IsBigEndian: true),
        "in32" => new SampleLayout(IsFloat: false, 4, IsBigEndian: true),
        "42ni" => new SampleLayout(IsFloat: false, 3),
        "23ni" => new SampleLayout(IsFloat: false, 4),
        "raw " => new SampleLayout(IsFloat: false, 1, IsOffsetBinary: true),
        _ => null,
    };

    private string CodingName => string.Create(4, Coding, (letters, coding) =>
    {
        for (int letter = 0; letter < 4; letter++)
        {
            letters[letter] = (char)((coding >> (24 - (8 * letter))) & 0xFF);
        }
    });

    /// <summary>Reads the chunk's data.</summary>
    internal static AiffCommonChunk Parse(SoundBytes file, long offset, long size, bool isAifc)
    {
        int needed = isAifc ? 22 : 18;
        if (size < needed)
        {
            throw file.Fault("has a damaged header (its 'COMM' chunk is too short); export it again");
        }

        Span<byte> data = stackalloc byte[22];
        file.ReadHeader(offset, data[..needed]);
        return new AiffCommonChunk(
            BinaryPrimitives.ReadUInt16BigEndian(data),
            BinaryPrimitives.ReadUInt32BigEndian(data[2..]),
            BinaryPrimitives.ReadUInt16BigEndian(data[6..]),
            Extended(data[8..18]),
            isAifc ? BinaryPrimitives.ReadUInt32BigEndian(data[18..]) : None);
    }

    /// <summary>How samples lie, or the fault that keeps us from taking them.</summary>
    internal SampleLayout CheckedLayout(SoundBytes file)
    {
        if ((AudioLimits.FaultOfChannels(Channels) ?? AudioLimits.FaultOfSampleRate(SampleRate)) is string fault)
        {
            throw file.Fault(fault);
        }

        if (Fixed is SampleLayout layout)
        {
            return layout;
        }

        if (CodingName is not ("NONE" or "twos" or "sowt"))
        {
            throw file.Fault($"holds samples of the coding '{CodingName}'; decode it to a WAV file of 24-bit samples first");
        }

        return Bits is >= 1 and <= 32
            ? new SampleLayout(IsFloat: false, (Bits + 7) / 8, IsBigEndian: CodingName != "sowt")
            : throw file.Fault($"says its samples have {Bits} bits; 1 to 32 are taken: export it again");
    }

    /// <summary>An 80-bit IEEE 754 extended number: sign and exponent of 15 bits, then 64 bits of which the first is the one.</summary>
    private static double Extended(ReadOnlySpan<byte> bytes)
    {
        int signAndExponent = BinaryPrimitives.ReadUInt16BigEndian(bytes);
        double magnitude = Math.ScaleB(BinaryPrimitives.ReadUInt64BigEndian(bytes[2..]), (signAndExponent & 0x7FFF) - 16383 - 63);
        return signAndExponent < 0x8000 ? magnitude : -magnitude;
    }
}
