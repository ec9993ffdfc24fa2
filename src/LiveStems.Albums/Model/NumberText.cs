using System.Globalization;

namespace LiveStems.Albums.Model;

/// <summary>Numbers with all their digits, with a minus sign that is one.</summary>
internal static class NumberText
{
    public static string Of(double value) =>
        value == 0 ? "0" : value.ToString(CultureInfo.InvariantCulture).Replace('-', '−');
}
