using System.Text.Json;

namespace LiveStems.Albums.Storage;

/// <summary>The version of the album file's form.</summary>
public static class AlbumSchema
{
    /// <summary>The form that this program writes; it reads this and every older one.</summary>
    public const int Current = 1;

    /// <summary>Name of the field that carries it, the first of the file.</summary>
    internal const string Field = "schema";

    // Our own files carry the schema in their first field; this is ample for it.
    private const int HeadBytes = 256;

    /// <summary>Refuses a file that is of a newer form, or says nothing of its form.</summary>
    internal static void Check(JsonElement root, string file, AlbumFaults faults)
    {
        if (root.ValueKind != JsonValueKind.Object)
        {
            return;
        }

        FieldPath path = FieldPath.Root.Field(Field);
        if (!root.TryGetProperty(Field, out JsonElement value))
        {
            faults.Add(path, $"is missing; an album file starts with \"{Field}\": {Current}");
        }
        else if (!JsonWords.TryNumber(value, out double schema) || schema < 1 || schema != Math.Floor(schema))
        {
            faults.Add(path, $"must be a whole number from 1, not {JsonWords.Shown(value)}");
        }
        else if (schema > Current)
        {
            throw Newer(file, schema);
        }
    }

    /// <summary>Refuses to write over a file of a newer form.</summary>
    internal static void CheckBeforeReplacing(string file)
    {
        if (!File.Exists(file))
        {
            return;
        }

        byte[] head = new byte[HeadBytes];
        int length;
        using (FileStream stream = File.OpenRead(file))
        {
            length = stream.ReadAtLeast(head, HeadBytes, throwOnEndOfStream: false);
        }

        if (SchemaIn(head.AsSpan(0, length)) is { } schema && schema > Current)
        {
            throw Newer(file, schema);
        }
    }

    private static double? SchemaIn(ReadOnlySpan<byte> head)
    {
        Utf8JsonReader reader = new(head, isFinalBlock: false, state: default);
        try
        {
            while (reader.Read())
            {
                bool found = reader.CurrentDepth == 1 && reader.TokenType == JsonTokenType.PropertyName && reader.ValueTextEquals(Field);
                if (found)
                {
                    return reader.Read() && reader.TokenType == JsonTokenType.Number && reader.TryGetDouble(out double schema) ? schema : null;
                }
            }
        }
        catch (JsonException)
        {
            // No album of ours: there is no newer form to guard.
        }

        return null;
    }

    private static AlbumException Newer(string file, double schema) => new(
        $"{file}: the album has schema {schema:0} and this program reads schemas up to {Current}; " +
        $"open it with a LiveStems that reads schema {schema:0} (the file is untouched)");
}
