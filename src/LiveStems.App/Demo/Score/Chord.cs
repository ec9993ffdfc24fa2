namespace LiveStems.App.Demo.Score;

/// <summary>A chord symbol: pitch classes above a root, over a bass.</summary>
internal sealed record Chord(int Root, int Bass, IReadOnlyList<int> Intervals)
{
    private static readonly Dictionary<string, int[]> Qualities = new()
    {
        [""] = [0, 4, 7],
        ["m"] = [0, 3, 7],
        ["5"] = [0, 7],
        ["6"] = [0, 4, 7, 9],
        ["m6"] = [0, 3, 7, 9],
        ["7"] = [0, 4, 7, 10],
        ["7b9"] = [0, 4, 7, 10, 13],
        ["9"] = [0, 4, 7, 10, 14],
        ["maj7"] = [0, 4, 7, 11],
        ["maj9"] = [0, 4, 7, 11, 14],
        ["m7"] = [0, 3, 7, 10],
        ["m9"] = [0, 3, 7, 10, 14],
        ["m7b5"] = [0, 3, 6, 10],
        ["add9"] = [0, 4, 7, 14],
        ["sus2"] = [0, 2, 7],
        ["sus4"] = [0, 5, 7],
        ["7sus4"] = [0, 5, 7, 10],
        ["9sus4"] = [0, 5, 7, 10, 14],
    };

    /// <summary>Pitch classes 0–11 without the bass.</summary>
    public IReadOnlyList<int> Classes { get; } = [.. Intervals.Select(interval => (Root + interval) % 12).Distinct()];

    /// <summary>Reads "Am7", "F#m7b5", "C/E".</summary>
    public static Chord Parse(string symbol)
    {
        string[] parts = symbol.Split('/');
        int letters = parts[0].Length > 1 && parts[0][1] is '#' or 'b' ? 2 : 1;
        int root = (Pitch.Class(parts[0][..letters]) + 12) % 12;
        int bass = parts.Length > 1 ? (Pitch.Class(parts[1]) + 12) % 12 : root;
        return new Chord(root, bass, Qualities[parts[0][letters..]]);
    }

    /// <summary>True when a key belongs to the chord.</summary>
    public bool Has(int key) => Classes.Contains(key % 12);

    /// <summary>The bass note at or above a key.</summary>
    public int BassFrom(int lowest) => lowest + ((Bass - lowest) % 12 + 12) % 12;
}
