using System.Collections.Immutable;
using System.Text.Json.Nodes;

namespace LiveStems.Albums.Model;

/// <summary>Fields of an object in the album file that this program does not know; kept so that saving loses nothing.</summary>
/// <param name="Fields">JSON text by field name.</param>
public sealed record UnknownFields(ImmutableSortedDictionary<string, string> Fields)
{
    /// <summary>No such fields.</summary>
    public static UnknownFields None { get; } = new(ImmutableSortedDictionary<string, string>.Empty);

    /// <summary>The fields as JSON nodes, ready to be written.</summary>
    public IEnumerable<KeyValuePair<string, JsonNode?>> Nodes =>
        Fields.Select(pair => KeyValuePair.Create(pair.Key, JsonNode.Parse(pair.Value)));
}
