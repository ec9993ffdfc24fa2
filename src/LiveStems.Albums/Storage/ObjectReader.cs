using System.Collections.Immutable;
using System.Text.Json;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.Storage;

/// <summary>
/// Reads one JSON object field by field. A field of the wrong kind is noted as a fault and read as its fallback, so that
/// one pass finds every fault; what nobody asked for is kept as unknown.
/// </summary>
internal sealed class ObjectReader
{
    private readonly List<(string Name, JsonElement Value)> fields = [];

    private ObjectReader(FieldPath path, AlbumFaults faults)
    {
        Path = path;
        Faults = faults;
    }

    public FieldPath Path { get; }

    public AlbumFaults Faults { get; }

    /// <summary>The fields that have not been taken yet, in the order of the file.</summary>
    public IReadOnlyList<(string Name, JsonElement Value)> Left => fields;

    /// <summary>Opens an element, which is noted as a fault and read as an empty object when it is something else.</summary>
    public static ObjectReader Open(JsonElement element, FieldPath path, AlbumFaults faults)
    {
        ObjectReader reader = new(path, faults);
        if (element.ValueKind != JsonValueKind.Object)
        {
            faults.Add(path, $"must be an object {{…}}, not {JsonWords.Shown(element)}");
            return reader;
        }

        HashSet<string> seen = new(StringComparer.Ordinal);
        foreach (JsonProperty property in element.EnumerateObject())
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
                reader.fields.Add((name, property.Value));
            }
        }

        return reader;
    }

    /// <summary>A text; a missing one is a fault when there is no fallback.</summary>
    public string Text(string name, string? fallback = null)
    {
        if (!TryTake(name, out JsonElement value))
        {
            return fallback ?? Missing(name, string.Empty);
        }

        return JsonWords.TryText(value) ?? Wrong(name, "a text \"…\"", value, fallback ?? string.Empty);
    }

    public string? OptionalText(string name) =>
        TryTake(name, out JsonElement value) ? JsonWords.TryText(value) ?? Wrong(name, "a text \"…\"", value, string.Empty) : null;

    public double Number(string name, double fallback) => OptionalNumber(name) ?? fallback;

    public double? OptionalNumber(string name)
    {
        if (!TryTake(name, out JsonElement value))
        {
            return null;
        }

        return JsonWords.TryNumber(value, out double number) ? number : Wrong<double?>(name, "a number", value, null);
    }

    public int WholeNumber(string name, int fallback) => OptionalWholeNumber(name) ?? fallback;

    public int? OptionalWholeNumber(string name)
    {
        if (!TryTake(name, out JsonElement value))
        {
            return null;
        }

        bool whole = JsonWords.TryNumber(value, out double number) && number == Math.Floor(number) && Math.Abs(number) <= int.MaxValue;
        return whole ? (int)number : Wrong<int?>(name, "a whole number", value, null);
    }

    public bool Switch(string name, bool fallback)
    {
        if (!TryTake(name, out JsonElement value))
        {
            return fallback;
        }

        return value.ValueKind is JsonValueKind.True or JsonValueKind.False
            ? value.GetBoolean()
            : Wrong(name, "true or false", value, fallback);
    }

    public T Word<T>(string name, WordTable<T> words, T fallback)
        where T : struct, Enum
    {
        if (!TryTake(name, out JsonElement value))
        {
            return fallback;
        }

        return JsonWords.TryText(value) is { } word && words.TryFind(word, out T found)
            ? found
            : Wrong(name, $"one of {string.Join(", ", words.All)}", value, fallback);
    }

    public T Object<T>(string name, T fallback, Func<ObjectReader, T> read) =>
        TryTake(name, out JsonElement value) ? read(Open(value, Path.Field(name), Faults)) : fallback;

    public ImmutableArray<T> List<T>(string name, Func<ObjectReader, T> read)
    {
        if (!TryTake(name, out JsonElement value))
        {
            return [];
        }

        if (value.ValueKind != JsonValueKind.Array)
        {
            return Wrong<ImmutableArray<T>>(name, "a list […]", value, []);
        }

        ImmutableArray<T>.Builder items = ImmutableArray.CreateBuilder<T>(value.GetArrayLength());
        FieldPath list = Path.Field(name);
        foreach (JsonElement item in value.EnumerateArray())
        {
            items.Add(read(Open(item, list.Item(items.Count), Faults)));
        }

        return items.DrainToImmutable();
    }

    /// <summary>The JSON text of a field as it stands, or null when it is missing.</summary>
    public string? Raw(string name)
    {
        int index = fields.FindIndex(field => field.Name == name);
        if (index < 0)
        {
            return null;
        }

        string text = fields[index].Value.GetRawText();
        fields.RemoveAt(index);
        return text;
    }

    /// <summary>What nobody has taken.</summary>
    public UnknownFields Rest()
    {
        if (fields.Count == 0)
        {
            return UnknownFields.None;
        }

        return new UnknownFields(fields.ToImmutableSortedDictionary(
            field => field.Name, field => field.Value.GetRawText(), StringComparer.Ordinal));
    }

    /// <summary>Takes a field; one that is null counts as missing.</summary>
    public bool TryTake(string name, out JsonElement value)
    {
        for (int i = 0; i < fields.Count; i++)
        {
            if (fields[i].Name == name)
            {
                value = fields[i].Value;
                fields.RemoveAt(i);
                return value.ValueKind != JsonValueKind.Null;
            }
        }

        value = default;
        return false;
    }

    private string Missing(string name, string fallback)
    {
        Faults.Add(Path.Field(name), "is missing");
        return fallback;
    }

    private T Wrong<T>(string name, string wanted, JsonElement value, T fallback)
    {
        Faults.Add(Path.Field(name), $"must be {wanted}, not {JsonWords.Shown(value)}");
        return fallback;
    }
}
