using System.Text;

namespace LiveStems.Albums.Editing;

/// <summary>Names as they stand inside a sentence.</summary>
internal static class SpokenName
{
    /// <summary>"Band 1 gain" gives "band 1 gain"; "DC block" and "Q" stay.</summary>
    public static string OfTitle(string title) =>
        title.Length > 1 && char.IsUpper(title[0]) && char.IsLower(title[1]) ? char.ToLowerInvariant(title[0]) + title[1..] : title;

    /// <summary>"roughMix" gives "rough mix", "chain.bypassed" "chain bypassed".</summary>
    public static string OfId(string id)
    {
        StringBuilder words = new();
        foreach (char letter in id)
        {
            if (char.IsUpper(letter))
            {
                words.Append(' ');
            }

            words.Append(letter == '.' ? ' ' : char.ToLowerInvariant(letter));
        }

        return words.ToString();
    }
}
