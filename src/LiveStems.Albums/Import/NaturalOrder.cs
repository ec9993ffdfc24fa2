namespace LiveStems.Albums.Import;

/// <summary>Orders names as people do: "2 Bass" before "10 Vocals", capitals or not.</summary>
public sealed class NaturalOrder : IComparer<string>
{
    /// <summary>The order.</summary>
    public static NaturalOrder Comparer { get; } = new();

    /// <inheritdoc/>
    public int Compare(string? x, string? y)
    {
        if (x is null || y is null)
        {
            return (x is null ? 0 : 1) - (y is null ? 0 : 1);
        }

        int i = 0;
        int j = 0;
        while (i < x.Length && j < y.Length)
        {
            int order;
            if (char.IsAsciiDigit(x[i]) && char.IsAsciiDigit(y[j]))
            {
                order = CompareNumbers(Digits(x, ref i), Digits(y, ref j));
            }
            else
            {
                order = char.ToUpperInvariant(x[i++]).CompareTo(char.ToUpperInvariant(y[j++]));
            }

            if (order != 0)
            {
                return order;
            }
        }

        int rest = (x.Length - i).CompareTo(y.Length - j);
        return rest != 0 ? rest : string.CompareOrdinal(x, y);
    }

    private static ReadOnlySpan<char> Digits(string text, ref int position)
    {
        int start = position;
        while (position < text.Length && char.IsAsciiDigit(text[position]))
        {
            position++;
        }

        return text.AsSpan(start, position - start).TrimStart('0');
    }

    // Without leading zeros a longer number is a larger one, however long it is.
    private static int CompareNumbers(ReadOnlySpan<char> one, ReadOnlySpan<char> other) =>
        one.Length != other.Length ? one.Length.CompareTo(other.Length) : one.SequenceCompareTo(other);
}
