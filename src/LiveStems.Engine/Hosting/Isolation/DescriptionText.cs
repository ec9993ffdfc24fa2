using System.Text.Json;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>
/// Descriptions of processors as JSON: kept beside the trust in a file, and told by a process of its own. What people read of
/// them is plain text once it has been read: nothing in it moves a cursor or turns the writing.
/// </summary>
internal static class DescriptionText
{
    private static readonly JsonSerializerOptions Form = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>One line of text.</summary>
    public static string Write(IEnumerable<ProcessorDescription> descriptions) =>
        JsonSerializer.Serialize(descriptions.Select(Flat).ToArray(), Form);

    /// <summary>The descriptions of such a text.</summary>
    /// <exception cref="HostingException">It is none, or one of them breaks a rule.</exception>
    public static IReadOnlyList<ProcessorDescription> Read(string text)
    {
        try
        {
            ProcessorDescription[] all = [.. (JsonSerializer.Deserialize<Described[]>(text, Form) ?? []).Select(Full)];
            return all.Select(DescriptionRules.FaultOf).FirstOrDefault(fault => fault is not null) is { } wrong
                ? throw new HostingException(wrong)
                : all;
        }
        catch (Exception fault) when (fault is JsonException or ArgumentException or NullReferenceException)
        {
            throw new HostingException($"descriptions are not understood: {fault.Message.ReplaceLineEndings(" ")}", fault);
        }
    }

    private static Described Flat(ProcessorDescription description) => new(
        description.Id, description.Name, description.Version, description.Purpose, description.ListensToKey,
        [.. description.Parameters.Select(spec => new DescribedParameter(
            spec.Id, spec.Name, spec.Unit, spec.Minimum, spec.Maximum, spec.Default, spec.Taper, spec.Description, [.. spec.Choices], spec.IsStructural))]);

    private static ProcessorDescription Full(Described flat) => new(
        flat.Id, Plain(flat.Name), flat.Version, Plain(flat.Purpose), [.. flat.Parameters.Select(Full)], flat.ListensToKey);

    private static ParameterSpec Full(DescribedParameter flat) =>
        (flat.Unit == ParameterUnit.Choice
            ? ParameterSpec.Choice(flat.Id, Plain(flat.Name), [.. flat.Choices.Select(Plain)], (int)flat.Default, Plain(flat.Description))
            : new ParameterSpec(flat.Id, Plain(flat.Name), flat.Unit, flat.Minimum, flat.Maximum, flat.Default, flat.Taper, Plain(flat.Description)))
        with { IsStructural = flat.IsStructural };

    private static string Plain(string? text) => PlainText.Of(text ?? string.Empty);

    private sealed record Described(string Id, string Name, int Version, string Purpose, bool ListensToKey, DescribedParameter[] Parameters);

    private sealed record DescribedParameter(
        string Id, string Name, ParameterUnit Unit, double Minimum, double Maximum, double Default, Taper Taper, string Description, string[] Choices, bool IsStructural);
}
