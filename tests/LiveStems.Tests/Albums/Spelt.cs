using System.Collections;
using System.Globalization;
using System.Reflection;

namespace LiveStems.Tests.Albums;

/// <summary>Spells out every property of a record and of all it holds, so that albums can be compared by content.</summary>
internal static class Spelt
{
    public static string Out(object? value) => value switch
    {
        null => "null",
        string text => $"\"{text}\"",
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        IDictionary map => $"{{{string.Join(", ", map.Keys.Cast<object>().Select(key => $"{Out(key)}: {Out(map[key])}"))}}}",
        IEnumerable items => $"[{string.Join(", ", items.Cast<object?>().Select(Out))}]",
        ValueType plain => plain.ToString()!,
        _ => $"{value.GetType().Name}({string.Join(", ", Properties(value).Select(property => $"{property.Name}={Out(property.GetValue(value))}"))})",
    };

    private static IEnumerable<PropertyInfo> Properties(object value) => value.GetType()
        .GetProperties(BindingFlags.Public | BindingFlags.Instance)
        .Where(property => property.CanWrite);
}
