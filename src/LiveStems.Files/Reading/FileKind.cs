using System.Text.Unicode;

namespace LiveStems.Files.Reading;

/// <summary>What a file holds, told from its first bytes (magic numbers from memory; those of sox and ffmpeg checked).</summary>
internal static class FileKind
{
    /// <summary>First bytes that are looked at.</summary>
    internal const int StartBytes = 64;

    // Sony Wave64: 'riff' and the tail of its GUID.
    private static ReadOnlySpan<byte> Wave64 =>
        [0x72, 0x69, 0x66, 0x66, 0x2E, 0x91, 0xCF, 0x11, 0xA5, 0xD6, 0x28, 0xDB, 0x04, 0xC1, 0x00, 0x00];

    /// <summary>WAV, RF64 or BW64.</summary>
    internal static bool IsWav(ReadOnlySpan<byte> start) =>
        (start.StartsWith("RIFF"u8) || start.StartsWith("RF64"u8) || start.StartsWith("BW64"u8)) && IsForm(start, "WAVE"u8);

    /// <summary>AIFF or AIFC.</summary>
    internal static bool IsAiff(ReadOnlySpan<byte> start) =>
        start.StartsWith("FORM"u8) && (IsForm(start, "AIFF"u8) || IsForm(start, "AIFC"u8));

    /// <summary>What a file is that libsndfile reads ("a FLAC file"), or null.</summary>
    internal static string? OfLibrary(ReadOnlySpan<byte> start) => start switch
    {
        _ when start.StartsWith("fLaC"u8) => "a FLAC file",
        _ when start.StartsWith("OggS"u8) => "an Ogg file",
        _ when start.StartsWith("caff"u8) => "a CAF file",
        _ when start.StartsWith(Wave64) => "a W64 file",
        _ when start.StartsWith(".snd"u8) => "an AU file",
        _ when start.StartsWith("ID3"u8) || IsMpegSound(start) => "an MP3 file",
        _ => null,
    };

    /// <summary>What a file is that we do not take, and how to mend it.</summary>
    internal static string Refusal(ReadOnlySpan<byte> start) => start switch
    {
        { Length: 0 } => "is empty (0 bytes); copy or export it again",
        _ when start.Length > 8 && start[4..].StartsWith("ftyp"u8) => Foreign("an MP4 or M4A file"),
        _ when start.StartsWith("RIFF"u8) && IsForm(start, "AVI "u8) => Foreign("an AVI film"),
        _ when start.StartsWith("RIFX"u8) => Foreign("a big-endian WAV file (RIFX)"),
        _ when start.StartsWith("wvpk"u8) => Foreign("a WavPack file"),
        _ when start.StartsWith("MAC "u8) => Foreign("a Monkey's Audio file"),
        _ when start.StartsWith("DSD "u8) || start.StartsWith("FRM8"u8) => Foreign("a DSD file"),
        _ when start.StartsWith((ReadOnlySpan<byte>)[0x1A, 0x45, 0xDF, 0xA3]) => Foreign("a Matroska or WebM file"),
        _ when start.StartsWith((ReadOnlySpan<byte>)[0x30, 0x26, 0xB2, 0x75]) => Foreign("a Windows Media file"),
        _ when start.StartsWith("MThd"u8) => "is a MIDI file and holds notes, not sound; render it to a WAV file",
        _ when start.StartsWith("PK\u0003\u0004"u8) => "is a ZIP archive; unpack it and name a sound file in it",
        _ when IsText(start) => "is a text file, not sound; name the sound file itself",
        _ when start.Trim((byte)0).IsEmpty => "starts with nothing but zeros, its copying was broken off; copy it again",
        _ => "is not sound of a kind that is known; export it as WAV",
    };

    private static bool IsForm(ReadOnlySpan<byte> start, ReadOnlySpan<byte> form) => start.Length >= 12 && start[8..].StartsWith(form);

    private static string Foreign(string what) => $"is {what}, which is not taken; convert it to a WAV file first";

    // Eleven bits of sync, a version and a layer that are not reserved.
    private static bool IsMpegSound(ReadOnlySpan<byte> start) =>
        start.Length >= 4 && start[0] == 0xFF && (start[1] & 0xE0) == 0xE0 && (start[1] & 0x18) != 0x08 && (start[1] & 0x06) != 0
        && (start[2] & 0xF0) != 0xF0 && (start[2] & 0x0C) != 0x0C;

    private static bool IsText(ReadOnlySpan<byte> start)
    {
        foreach (byte letter in start)
        {
            if (letter is < 0x20 and not ((byte)'\t' or (byte)'\r' or (byte)'\n') or 0x7F)
            {
                return false;
            }
        }

        // The last letter, of up to four bytes, may be cut.
        return Utf8.IsValid(start) || Utf8.IsValid(start[..^Math.Min(1, start.Length)])
            || Utf8.IsValid(start[..^Math.Min(2, start.Length)]) || Utf8.IsValid(start[..^Math.Min(3, start.Length)]);
    }
}
