using System.Runtime.InteropServices;
using System.Text.Json;

namespace LiveStems.Albums.Storage;

/// <summary>The fields of a JSON object, each name once.</summary>
internal static class ObjectFields
{
    private const int UsualCount = 12;

    /// <summary>The fields in the order of the file; none when the element is no object, which is noted as a fault.</summary>
    public static List<JsonProperty> Of(JsonElement element, FieldPath path, AlbumFaults faults)
    {
        if (element.ValueKind != JsonValueKind.Object)
        {
            faults.Add(path, $"must be an object {{…}}, not {JsonWords.Shown(element)}");
            return [];
        }

        List<JsonProperty> fields = new(UsualCount);
        bool isPlain = true;
        foreach (JsonProperty property in element.EnumerateObject())
        {
            isPlain &= !JsonMarshal.GetRawUtf8PropertyName(property).Contains((byte)'\\');
            fields.Add(property);
        }

        // Few names without escapes are compared as they stand, which makes no strings.
        return isPlain && fields.Count <= UsualCount && AreDistinct(fields) ? fields : Distinct(fields, path, faults);
    }

    private static bool AreDistinct(List<JsonProperty> fields)
    {
        for (int i = 1; i < fields.Count; i++)
        {
            ReadOnlySpan<byte> name = JsonMarshal.GetRawUtf8PropertyName(fields[i]);
            for (int j = 0; j < i; j++)
            {
                if (name.SequenceEqual(JsonMarshal.GetRawUtf8PropertyName(fields[j])))
                {
                    return false;
                }
            }
        }

        return true;
    }

    private static List<JsonProperty> Distinct(List<JsonProperty> fields, FieldPath path, AlbumFaults faults)
    {
        List<JsonProperty> distinct = new(fields.Count);
        HashSet<string> seen = new(fields.Count, StringComparer.Ordinal);
        foreach (JsonProperty property in fields)
        {
            string? name = JsonWords.TryName(property);
            if (name is null)
            {
                faults.Add(path, "has a field whose name holds half a character; mend or remove the field");
            }
            else if (!seen.Add(name))
            {
                faults.Add(path.Field(name), "is written twice; keep one");
            }
            else
            {
                distinct.Add(property);
            }
        }

        return distinct;
    }
}
