using System.Globalization;
using System.Text.Json.Nodes;

namespace LiveStems.Tests.Albums.Storage;

/// <summary>Sets a value in JSON by the path that faults are named by.</summary>
internal static class JsonPlace
{
    public static void Set(JsonNode root, string place, string value)
    {
        // Names of parameters hold dots.
        int parameters = place.IndexOf("parameters.", StringComparison.Ordinal);
        string[] parts = parameters < 0
            ? place.Split('.')
            : [.. place[..parameters].Split('.', StringSplitOptions.RemoveEmptyEntries), "parameters", place[(parameters + "parameters.".Length)..]];
        JsonNode node = parts[..^1].Aggregate(root, Step);
        node[parts[^1]] = value;
    }

    private static JsonNode Step(JsonNode node, string part)
    {
        int bracket = part.IndexOf('[', StringComparison.Ordinal);
        return bracket < 0
            ? node[part]!
            : node[part[..bracket]]![int.Parse(part[(bracket + 1)..^1], CultureInfo.InvariantCulture)]!;
    }
}
