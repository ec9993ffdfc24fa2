using System.Text;
using System.Text.Json;
using System.Text.Unicode;

namespace LiveStems.Albums.Storage;

/// <summary>From the bytes of a file to JSON, with line and column where that fails.</summary>
internal static class AlbumSyntax
{
    public static JsonDocument Parse(ReadOnlyMemory<byte> bytes, string file)
    {
        ReadOnlyMemory<byte> text = bytes.Span.StartsWith(Encoding.UTF8.Preamble) ? bytes[Encoding.UTF8.Preamble.Length..] : bytes;
        if (!Utf8.IsValid(text.Span))
        {
            throw new AlbumException($"{file}: {Place(text.Span, FirstInvalid(text.Span))}: the text is not UTF-8; save it as UTF-8");
        }

        try
        {
            return JsonDocument.Parse(text);
        }
        catch (JsonException fault)
        {
            int offset = Offset(text.Span, fault.LineNumber ?? 0, fault.BytePositionInLine ?? 0);
            throw new AlbumException($"{file}: {Place(text.Span, offset)}: {Reason(fault)}", fault);
        }
    }

    private static int FirstInvalid(ReadOnlySpan<byte> text)
    {
        int offset = 0;
        while (Rune.DecodeFromUtf8(text[offset..], out _, out int length) == System.Buffers.OperationStatus.Done)
        {
            offset += length;
        }

        return offset;
    }

    private static int Offset(ReadOnlySpan<byte> text, long line, long byteInLine)
    {
        int offset = 0;
        for (long i = 0; i < line; i++)
        {
            offset += text[offset..].IndexOf((byte)'\n') + 1;
        }

        return (int)Math.Min(offset + byteInLine, text.Length);
    }

    private static string Place(ReadOnlySpan<byte> text, int offset)
    {
        ReadOnlySpan<byte> before = text[..offset];
        int line = before.Count((byte)'\n') + 1;
        int column = Encoding.UTF8.GetCharCount(before[(before.LastIndexOf((byte)'\n') + 1)..]) + 1;
        return $"line {line}, column {column}";
    }

    private static string Reason(JsonException fault)
    {
        int end = fault.Message.IndexOf(" LineNumber:", StringComparison.Ordinal);
        string reason = end < 0 ? fault.Message : fault.Message[..end];
        return $"not JSON: {reason.TrimEnd('.').ReplaceLineEndings(" ")}";
    }
}
