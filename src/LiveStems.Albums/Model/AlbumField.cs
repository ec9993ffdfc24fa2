using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Model;

/// <summary>A number of the album itself: its name, unit and range, declared once for files, commands and views.</summary>
/// <param name="Spec">Name, unit and range.</param>
/// <param name="UnitWord">The unit as written, where <see cref="ParameterUnit"/> has none for it ("LUFS"); otherwise empty.</param>
public sealed record AlbumField(ParameterSpec Spec, string UnitWord = "")
{
    /// <summary>The value with its unit.</summary>
    public string Format(double value) => WithUnit(ParameterText.Format(Spec, value));

    /// <summary>"−60 dB to 24 dB".</summary>
    public string FormatRange() =>
        UnitWord.Length == 0 ? ParameterText.FormatRange(Spec) : $"{Format(Spec.Minimum)} to {Format(Spec.Maximum)}";

    /// <summary>True when the value is a number inside the range.</summary>
    public bool Contains(double value) => value >= Spec.Minimum && value <= Spec.Maximum;

    /// <summary>Reads a value written with its unit (without what stands in brackets there, if one likes) or as a bare number; the fault says what would be right.</summary>
    public bool TryParse(string text, out double value, out string fault)
    {
        string bare = text.Trim();
        foreach (string word in UnitWord.Length == 0 ? [] : (string[])[UnitWord, UnitWord.Split('(')[0]])
        {
            if (bare.EndsWith(word, StringComparison.OrdinalIgnoreCase))
            {
                bare = bare[..^word.Length];
                break;
            }
        }

        bool isRead = ParameterText.TryParse(Spec, bare, out value, out fault);
        if (!isRead && UnitWord.Length > 0)
        {
            fault = fault.Replace(ParameterText.FormatRange(Spec), FormatRange(), StringComparison.Ordinal)
                .Replace($"'{ParameterText.Format(Spec, Spec.Default)}'", $"'{Format(Spec.Default)}'", StringComparison.Ordinal);
        }

        return isRead;
    }

    private string WithUnit(string number) => UnitWord.Length == 0 ? number : $"{number} {UnitWord}";
}
