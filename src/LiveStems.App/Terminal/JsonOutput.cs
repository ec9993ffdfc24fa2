using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace LiveStems.App.Terminal;

/// <summary>Writes results for programs.</summary>
internal static class JsonOutput
{
    /// <summary>Writes indented JSON and a line end.</summary>
    public static void Write(TextWriter output, JsonNode result)
    {
        using MemoryStream memory = new();
        using (Utf8JsonWriter writer = new(memory, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            result.WriteTo(writer);
        }

        output.WriteLine(System.Text.Encoding.UTF8.GetString(memory.ToArray()));
    }

    /// <summary>An array of nodes.</summary>
    public static JsonArray Array(IEnumerable<JsonNode?> items)
    {
        JsonArray array = [];
        foreach (JsonNode? item in items)
        {
            array.Add(item);
        }

        return array;
    }
}
