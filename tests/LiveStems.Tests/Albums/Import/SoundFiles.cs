using System.Buffers.Binary;

namespace LiveStems.Tests.Albums.Import;

/// <summary>Small WAV files that differ by what they are filled with.</summary>
internal static class SoundFiles
{
    public static string Write(string path, byte filling = 0)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, Bytes(filling));
        return path;
    }

    // 16-bit stereo PCM at 48 kHz, 64 frames; layout in REFERENCES 11.1.
    public static byte[] Bytes(byte filling)
    {
        const int dataBytes = 64 * 4;
        byte[] file = new byte[44 + dataBytes];
        "RIFF"u8.CopyTo(file);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(4), file.Length - 8);
        "WAVEfmt "u8.CopyTo(file.AsSpan(8));
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(16), 16);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(20), 1);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(22), 2);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(24), 48_000);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(28), 48_000 * 4);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(32), 4);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(34), 16);
        "data"u8.CopyTo(file.AsSpan(36));
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(40), dataBytes);
        file.AsSpan(44).Fill(filling);
        return file;
    }
}
