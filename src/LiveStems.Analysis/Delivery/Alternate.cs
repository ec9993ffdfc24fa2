using System.Globalization;
using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Delivery;

/// <summary>Another version of a song's master that falls out of its stems.</summary>
/// <param name="Id">Short name for commands and file names: "instrumental", "vocal-up-1.5".</param>
/// <param name="Name">Name in words for titles.</param>
/// <param name="LevelDb">Level of a stem in it relative to the master, in dB; null when it is left out.</param>
public sealed record Alternate(string Id, string Name, Func<Stem, double?> LevelDb)
{
    private const double LargestShiftDb = 12;

    /// <summary>How the alternates are asked for.</summary>
    public static IReadOnlyList<string> Forms { get; } = ["instrumental", "a-cappella", "television", "vocal-up=1.5", "vocal-down=1.5", "without=STEM"];

    /// <summary>Reads what was asked for.</summary>
    /// <exception cref="DeliveryException">It is none of <see cref="Forms"/>.</exception>
    public static Alternate Parse(string text)
    {
        int equals = text.IndexOf('=');
        string kind = (equals < 0 ? text : text[..equals]).Trim().ToLowerInvariant();
        string value = equals < 0 ? string.Empty : text[(equals + 1)..].Trim();
        return (kind, value) switch
        {
            ("instrumental", "") => new Alternate(kind, "instrumental", stem => IsVoice(stem) ? null : 0),
            ("a-cappella", "") => new Alternate(kind, "a cappella", stem => IsVoice(stem) ? 0 : null),
            ("television", "") => new Alternate(kind, "television mix", stem => stem.Role == StemRole.LeadVocal ? null : 0),
            ("vocal-up", _) => Shifted(kind, "vocal up", value, 1),
            ("vocal-down", _) => Shifted(kind, "vocal down", value, -1),
            ("without", { Length: > 0 }) => new Alternate(
                "without-" + SafeFileName.From(value).ToLowerInvariant().Replace(' ', '-'),
                $"without {value}",
                stem => stem.Name.StartsWith(value, StringComparison.OrdinalIgnoreCase) ? null : 0),
            _ => throw new DeliveryException($"no alternate '{text}'; there are {string.Join(", ", Forms)}"),
        };
    }

    /// <summary>The levels of a song's stems in it, relative to the master, in dB; null for stems that are left out.</summary>
    /// <exception cref="DeliveryException">No stem is left, or it would be the master itself.</exception>
    internal double?[] LevelsIn(Song song)
    {
        double?[] levels = [.. song.Stems.Select(LevelDb)];
        return levels.All(level => level is null) ? throw new DeliveryException($"'{song.Title}': no stem is left in the alternate '{Id}'; see the stems' roles with 'livestems show'")
            : levels.All(level => level == 0) ? throw new DeliveryException($"'{song.Title}': the alternate '{Id}' would be the master itself; see the stems' names and roles with 'livestems show'")
            : levels;
    }

    private static bool IsVoice(Stem stem) => stem.Role is StemRole.LeadVocal or StemRole.BackingVocal;

    private static Alternate Shifted(string kind, string name, string value, int sign)
    {
        string number = value.EndsWith("dB", StringComparison.OrdinalIgnoreCase) ? value[..^2].TrimEnd() : value;
        if (!double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double shift) || shift is not (> 0 and <= LargestShiftDb))
        {
            throw new DeliveryException($"{kind} takes decibels above 0 and up to {LargestShiftDb}, such as {kind}=1.5, not '{value}'");
        }

        return new Alternate($"{kind}-{shift:0.##}", $"{name} {shift:0.##} dB", stem => stem.Role == StemRole.LeadVocal ? sign * shift : 0);
    }
}
