using System.Text.Json;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.Storage;

/// <summary>Ends an object with the fields this program does not know, word for word.</summary>
internal static class UnknownFieldsWriter
{
    public static void End(Utf8JsonWriter json, UnknownFields unknown)
    {
        foreach ((string name, string value) in unknown.Fields)
        {
            json.WritePropertyName(name);
            json.WriteRawValue(value);
        }

        json.WriteEndObject();
    }
}
