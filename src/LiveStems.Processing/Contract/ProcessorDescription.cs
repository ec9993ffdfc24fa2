namespace LiveStems.Processing.Contract;

/// <summary>What a processor is, the same for all its instances.</summary>
/// <param name="Id">Stable name in albums and commands, lower case with hyphens: <c>de-esser</c>.</param>
/// <param name="Name">What a person reads: "De-esser".</param>
/// <param name="Version">Raised when the same settings would sound different.</param>
/// <param name="Purpose">One sentence: what an engineer reaches for it for.</param>
/// <param name="Parameters">The parameters, in the order of their indices.</param>
/// <param name="ListensToKey">True when a key signal other than the sound itself changes what it does.</param>
public sealed record ProcessorDescription(
    string Id,
    string Name,
    int Version,
    string Purpose,
    IReadOnlyList<ParameterSpec> Parameters,
    bool ListensToKey)
{
    private readonly Dictionary<string, int> indices = IndicesOf(Parameters);

    /// <summary>Index of a parameter, or −1 when there is none of that id.</summary>
    public int IndexOf(string parameterId) => indices.GetValueOrDefault(parameterId, -1);

    private static Dictionary<string, int> IndicesOf(IReadOnlyList<ParameterSpec> parameters)
    {
        Dictionary<string, int> indices = new(parameters.Count, StringComparer.Ordinal);
        for (int i = 0; i < parameters.Count; i++)
        {
            indices.Add(parameters[i].Id, i);
        }

        return indices;
    }
}
