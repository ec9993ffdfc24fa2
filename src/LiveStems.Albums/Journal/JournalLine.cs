using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace LiveStems.Albums.Journal;

/// <summary>Records of the journal as lines of JSON.</summary>
internal static class JournalLine
{
    private const int Schema = 1;

    private static readonly JsonWriterOptions Form = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private static readonly JournalKind[] Told = [JournalKind.Do, JournalKind.More, JournalKind.Undo, JournalKind.Redo];

    /// <summary>Adds a record and a line end.</summary>
    public static void Write(JournalRecord record, IBufferWriter<byte> to)
    {
        using (Utf8JsonWriter json = new(to, Form))
        {
            json.WriteStartObject();
            if (record.Kind == JournalKind.Start)
            {
                json.WriteNumber("journal", Schema);
            }
            else
            {
                json.WriteString(NameOf(record.Kind), record.Words);
            }

            if (record.Patch is { } patch)
            {
                json.WriteNumber("from", patch.At);
                json.WriteString("removed", patch.Removed);
                json.WriteString("inserted", patch.Inserted);
            }

            json.WriteString("after", record.After);
            json.WriteString("at", record.At);
            json.WriteEndObject();
        }

        to.Write("\n"u8);
    }

    /// <summary>Reads a line; null when it is none of ours, or torn.</summary>
    public static JournalRecord? Read(string line)
    {
        try
        {
            if (JsonNode.Parse(line) is not JsonObject json)
            {
                return null;
            }

            string after = json["after"]!.GetValue<string>();
            DateTimeOffset at = json["at"]!.GetValue<DateTimeOffset>();
            if (json["journal"] is { } schema)
            {
                return schema.GetValue<int>() == Schema ? new JournalRecord(JournalKind.Start, string.Empty, null, after, at) : null;
            }

            foreach (JournalKind kind in Told)
            {
                if (json[NameOf(kind)] is { } words)
                {
                    return new JournalRecord(kind, words.GetValue<string>(), Patch(json), after, at);
                }
            }

            return null;
        }
        catch (Exception fault) when (fault is JsonException or NullReferenceException or InvalidOperationException or FormatException)
        {
            return null;
        }
    }

    private static TextPatch? Patch(JsonObject json) => json["from"] is { } from
        ? new TextPatch(from.GetValue<int>(), json["removed"]!.GetValue<string>(), json["inserted"]!.GetValue<string>())
        : null;

    private static string NameOf(JournalKind kind) => kind switch
    {
        JournalKind.Do => "do",
        JournalKind.More => "more",
        JournalKind.Undo => "undo",
        _ => "redo",
    };
}
