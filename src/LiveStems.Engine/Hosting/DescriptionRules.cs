using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>What a description must hold for albums, commands and views to work with it.</summary>
internal static class DescriptionRules
{
    /// <summary>What is wrong in one line, or null.</summary>
    public static string? FaultOf(ProcessorDescription? description)
    {
        if (description is null)
        {
            return "has no description";
        }

        if (!IsId(description.Id))
        {
            return $"the id '{description.Id}' must be lower-case letters, digits and hyphens";
        }

        if (string.IsNullOrWhiteSpace(description.Name) || description.Version < 1)
        {
            return $"'{description.Id}' needs a name and a version from 1";
        }

        return description.Parameters.Select(FaultOf).FirstOrDefault(fault => fault is not null);
    }

    private static string? FaultOf(ParameterSpec spec)
    {
        bool isRange = double.IsFinite(spec.Minimum) && double.IsFinite(spec.Maximum) && spec.Minimum <= spec.Maximum;
        if (!isRange || !(spec.Default >= spec.Minimum && spec.Default <= spec.Maximum))
        {
            return $"parameter '{spec.Id}': its default must lie within a finite range";
        }

        if (spec.Taper == Taper.Logarithmic && spec.Minimum <= 0)
        {
            return $"parameter '{spec.Id}': a logarithmic range must lie above zero";
        }

        return spec.Unit == ParameterUnit.Choice && spec.Choices.Count != spec.Maximum + 1 ? $"parameter '{spec.Id}': its choices and its range differ" : null;
    }

    private static bool IsId(string? id) =>
        id is { Length: > 0 and <= 64 } && char.IsAsciiLetterLower(id[0]) && id.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) || letter == '-');
}
