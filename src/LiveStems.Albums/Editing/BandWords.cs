using System.Globalization;
using LiveStems.Albums.Model;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Editing;

/// <summary>
/// A parameter of one of many bands as an engineer says it: by the shape of the band where it is the only one of that
/// shape that is on ("low-pass frequency"), by its number where there are others ("band 3 gain").
/// </summary>
internal static class BandWords
{
    private const string Prefix = "band";
    private const string ShapeField = ".shape";
    private const string OnField = ".on";

    public static string Of(ChainSlot slot, ProcessorDescription description, ParameterSpec spec)
    {
        string plain = SpokenName.OfTitle(spec.Name);
        if (BandOf(spec.Id) is not { } band || spec.Id.EndsWith(ShapeField, StringComparison.Ordinal) || ShapeOf(slot, description, band) is not { } shape)
        {
            return plain;
        }

        int others = Bands(description).Count(other => other != band && IsOn(slot, description, other) && ShapeOf(slot, description, other) == shape);
        string start = string.Create(CultureInfo.InvariantCulture, $"{Prefix} {band}");
        return others > 0 || !plain.StartsWith(start, StringComparison.Ordinal) ? plain : shape + plain[start.Length..];
    }

    private static IEnumerable<int> Bands(ProcessorDescription description) => description.Parameters
        .Where(spec => spec.Id.EndsWith(ShapeField, StringComparison.Ordinal))
        .Select(spec => BandOf(spec.Id))
        .OfType<int>();

    private static int? BandOf(string id)
    {
        int dot = id.IndexOf('.');
        return dot > Prefix.Length && id.StartsWith(Prefix, StringComparison.Ordinal)
            && int.TryParse(id.AsSpan(Prefix.Length, dot - Prefix.Length), NumberStyles.None, CultureInfo.InvariantCulture, out int band)
                ? band
                : null;
    }

    private static string? ShapeOf(ChainSlot slot, ProcessorDescription description, int band) =>
        Value(slot, description, band, ShapeField) is var (spec, value) && spec.Choices.Count > 0 ? spec.Choices[(int)spec.Clamp(value)] : null;

    private static bool IsOn(ChainSlot slot, ProcessorDescription description, int band) =>
        Value(slot, description, band, OnField) is not var (_, value) || value >= 0.5;

    private static (ParameterSpec Spec, double Value)? Value(ChainSlot slot, ProcessorDescription description, int band, string field)
    {
        int index = description.IndexOf(string.Create(CultureInfo.InvariantCulture, $"{Prefix}{band}{field}"));
        return index < 0 ? null : (description.Parameters[index], slot.Parameters.GetValueOrDefault(description.Parameters[index].Id, description.Parameters[index].Default));
    }
}
