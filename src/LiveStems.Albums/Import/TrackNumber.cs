using System.Text.RegularExpressions;

namespace LiveStems.Albums.Import;

/// <summary>The number in front of the names of files and folders that puts them in order and is no part of the name.</summary>
internal static partial class TrackNumber
{
    /// <summary>
    /// The names without their numbers. A number counts as one when it starts with 0, when a sign other than a space
    /// follows, or when at least half of the names have one: "99 Boats" alone keeps its number.
    /// </summary>
    public static List<string> Stripped(IReadOnlyList<string> names)
    {
        int numbered = names.Count(name => Numbered().IsMatch(name));
        bool customary = numbered >= 2 && numbered * 2 >= names.Count;
        return [.. names.Select(name => Stripped(name, customary))];
    }

    private static string Stripped(string name, bool customary)
    {
        Match match = Numbered().Match(name);
        if (!match.Success || StringCount().IsMatch(name))
        {
            return name;
        }

        bool evident = name.TrimStart('(', '[')[0] == '0' || match.Groups["sign"].Value.Trim().Length > 0;
        return evident || customary ? name[match.Length..] : name;
    }

    // At most two digits, or three with a leading zero: "808 Bass" is no track number 808.
    [GeneratedRegex(@"^[(\[]?(\d{1,2}|0\d\d)(?<sign>[\s._\-–)\]]+)(?=\S)", RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant)]
    private static partial Regex Numbered();

    [GeneratedRegex(@"^(6|7|12)[\s_-]?string", RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex StringCount();
}
