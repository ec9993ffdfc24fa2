using System.Buffers.Binary;

namespace LiveStems.Files.Reading;

/// <summary>
/// The 'fmt ' chunk of a WAV file: WAVEFORMATEX, or WAVEFORMATEXTENSIBLE where the tag sits in a GUID and the bits that
/// carry sound are told apart from the bits of their container.
/// </summary>
/// <param name="Tag">1 whole numbers, 3 floats; others are codings of some kind.</param>
/// <param name="Channels">Channels as stated.</param>
/// <param name="SampleRate">Frames per second as stated.</param>
/// <param name="FrameBytes">Bytes of one frame as stated.</param>
/// <param name="Bits">Bits of a sample's container as stated.</param>
/// <param name="ValidBits">Bits of a sample that carry sound.</param>
/// <param name="ChannelMask">Loudspeakers by bits, 0 when not stated.</param>
internal readonly record struct WaveFormatChunk(
    int Tag,
    int Channels,
    uint SampleRate,
    int FrameBytes,
    int Bits,
    int ValidBits,
    uint ChannelMask)
{
    private const int Extensible = 0xFFFE;

    // The part of the sub-format GUID after the tag: xxxxxxxx-0000-0010-8000-00AA00389B71.
    private static ReadOnlySpan<byte> GuidTail =>
        [0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xAA, 0x00, 0x38, 0x9B, 0x71];

    /// <summary>Reads the chunk's data.</summary>
    internal static WaveFormatChunk Parse(SoundBytes file, long offset, long size)
    {
        if (size < 14)
        {
            throw file.Fault("has a damaged header (its 'fmt ' chunk is too short); export it again");
        }

        Span<byte> data = stackalloc byte[40];
        data.Clear();
        file.ReadHeader(offset, data[..(int)Math.Min(size, data.Length)]);
        int tag = BinaryPrimitives.ReadUInt16LittleEndian(data);
        int bits = BinaryPrimitives.ReadUInt16LittleEndian(data[14..]);
        int validBits = bits;
        uint mask = 0;
        if (tag == Extensible)
        {
            if (size < 40)
            {
                throw file.Fault("has a damaged header (its extensible 'fmt ' chunk is too short); export it again");
            }

            int stated = BinaryPrimitives.ReadUInt16LittleEndian(data[18..]);
            validBits = stated == 0 ? bits : stated;
            mask = BinaryPrimitives.ReadUInt32LittleEndian(data[20..]);
            uint subFormat = BinaryPrimitives.ReadUInt32LittleEndian(data[24..]);
            tag = data[28..40].SequenceEqual(GuidTail) && subFormat < Extensible ? (int)subFormat : Extensible;
        }

        return new WaveFormatChunk(
            tag,
            BinaryPrimitives.ReadUInt16LittleEndian(data[2..]),
            BinaryPrimitives.ReadUInt32LittleEndian(data[4..]),
            BinaryPrimitives.ReadUInt16LittleEndian(data[12..]),
            bits,
            validBits,
            mask);
    }

    /// <summary>How samples lie, or the fault that keeps us from taking them.</summary>
    internal SampleLayout CheckedLayout(SoundBytes file)
    {
        bool isFloat = Tag == 3;
        if (Tag is not (1 or 3))
        {
            throw file.Fault($"holds {CodingName}; decode it to a WAV file of 24-bit samples first");
        }

        if ((AudioLimits.FaultOfChannels(Channels) ?? AudioLimits.FaultOfSampleRate(SampleRate)) is string fault)
        {
            throw file.Fault(fault);
        }

        int bytes = FrameBytes / Channels;
        bool isSound = isFloat
            ? Bits == 8 * bytes && bytes is 4 or 8
            : Bits is >= 1 and <= 32 && Bits <= 8 * bytes && bytes is >= 1 and <= 4;
        if (!isSound || FrameBytes % Channels != 0 || ValidBits > 8 * bytes)
        {
            throw file.Fault($"has a header that contradicts itself ({Channels} × {Bits} bits "
                + $"{(isFloat ? "float " : string.Empty)}in frames of {FrameBytes} bytes); export it again");
        }

        return new SampleLayout(isFloat, bytes, IsOffsetBinary: !isFloat && bytes == 1);
    }

    // Tag numbers of mmreg.h, from memory; 6 and 7 read in libsndfile.
    private string CodingName => Tag switch
    {
        2 => "Microsoft ADPCM",
        6 => "A-law samples",
        7 => "µ-law samples",
        0x11 => "IMA ADPCM",
        0x31 => "GSM 6.10 speech",
        0x50 => "MPEG layer 2 sound",
        0x55 => "MP3 sound",
        0x92 => "AC-3 (S/PDIF) sound",
        0x161 => "Windows Media sound",
        0x2000 => "AC-3 sound",
        Extensible => "samples of a kind that only another program's GUID names",
        _ => $"samples of coding 0x{Tag:X4}",
    };
}
