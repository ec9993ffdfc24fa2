using System.CommandLine;

namespace LiveStems.App.Verbs;

/// <summary>Options that several verbs share.</summary>
internal static class CommonOptions
{
    /// <summary>JSON instead of text.</summary>
    public static Option<bool> Json() => new("--json") { Description = "Write JSON for programs instead of text." };

    /// <summary>The album folder.</summary>
    public static Argument<string> Album() => new("album") { Description = "The album's folder, or its album.json." };

    /// <summary>One song of the album.</summary>
    public static Option<string?> Song() => new("--song") { Description = "A song by title, beginning of its title, or number." };

    /// <summary>A picture besides.</summary>
    public static Option<string?> Picture() => new("--picture") { Description = "Draw the result into a PNG file, too." };
}
