namespace LiveStems.App.Demo.Score;

/// <summary>Chord shapes on six strings tuned E2 A2 D3 G3 B3 E4.</summary>
internal static class Fretboard
{
    /// <summary>Keys of the open strings, low to high.</summary>
    public static ReadOnlySpan<int> OpenKeys => [40, 45, 50, 55, 59, 64];

    /// <summary>
    /// A key for each string, low to high, or null where a string is left out: the bass on the lowest string that
    /// reaches it, above it the lowest chord tone from a fret upwards.
    /// </summary>
    public static int?[] Shape(Chord chord, int fret)
    {
        var keys = new int?[OpenKeys.Length];
        bool bassPlaced = false;
        for (int i = 0; i < keys.Length; i++)
        {
            for (int reach = fret; reach < fret + 5 && keys[i] is null; reach++)
            {
                int key = OpenKeys[i] + reach;
                bool fits = bassPlaced ? chord.Has(key) : key % 12 == chord.Bass;
                keys[i] = fits ? key : null;
            }

            bassPlaced |= keys[i] is not null;
        }

        return keys;
    }

    /// <summary>Root, fifth and octave on the three strings from the lowest that reaches the root.</summary>
    public static int?[] PowerShape(Chord chord)
    {
        int root = chord.BassFrom(OpenKeys[0]);
        int first = root - OpenKeys[0] <= 7 ? 0 : 1;
        var keys = new int?[OpenKeys.Length];
        keys[first] = root;
        keys[first + 1] = root + 7;
        keys[first + 2] = root + 12;
        return keys;
    }
}
