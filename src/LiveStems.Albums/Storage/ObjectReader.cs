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
    private readonly List<JsonProperty> fields;

    // In our own files a field stands where it is looked for first: behind the one that was taken last.
    private int next;

    private ObjectReader(List<JsonProperty> fields, FieldPath path, AlbumFaults faults)
    {
        this.fields = fields;
        Path = path;
        Faults = faults;
    }

    public FieldPath Path { get; }

    public AlbumFaults Faults { get; }

    /// <summary>Opens an element, which is noted as a fault and read as an empty object when it is something else.</summary>
    public static ObjectReader Open(JsonElement element, FieldPath path, AlbumFaults faults) =>
        new(ObjectFields.Of(element, path, faults), path, faults);

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
        int index = Find(name);
        return index < 0 ? null : Take(index).GetRawText();
    }

    /// <summary>Takes a field; one that is null counts as missing.</summary>
    public bool TryTake(string name, out JsonElement value)
    {
        int index = Find(name);
        value = index < 0 ? default : Take(index);
        return index >= 0 && value.ValueKind != JsonValueKind.Null;
    }

    /// <summary>What nobody has taken.</summary>
    public UnknownFields Rest()
    {
        List<JsonProperty> rest = [.. fields.Where(field => field.Value.ValueKind != JsonValueKind.Undefined)];
        return rest.Count == 0
            ? UnknownFields.None
            : new UnknownFields(rest.ToImmutableSortedDictionary(field => field.Name, field => field.Value.GetRawText(), StringComparer.Ordinal));
    }

    private int Find(string name)
    {
        for (int step = 0; step < fields.Count; step++)
        {
            int index = (next + step) % fields.Count;
            if (fields[index].Value.ValueKind != JsonValueKind.Undefined && fields[index].NameEquals(name))
            {
                return index;
            }
        }

        return -1;
    }

    private JsonElement Take(int index)
    {
        JsonElement value = fields[index].Value;
        fields[index] = default;
        next = index + 1;
        return value;
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
