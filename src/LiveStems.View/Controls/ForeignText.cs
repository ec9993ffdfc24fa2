using System.Globalization;
using System.Text;
using SkiaSharp;
using SkiaSharp.HarfBuzz;
using Buffer = HarfBuzzSharp.Buffer;
using ReadingDirection = HarfBuzzSharp.Direction;

namespace LiveStems.View.Controls;

/// <summary>
/// Words with signs that the window's font lacks, or that run from right to left: each stretch is set in a font of the system
/// that has it, joined as its script joins letters, and put where it is read.
/// </summary>
/// <remarks>
/// Directions are those of the Unicode Bidirectional Algorithm (UAX #9) without embeddings: a line has the direction of its
/// first letter; signs between two stretches of one direction belong to them, others to the line.
/// </remarks>
internal sealed class ForeignText : IDisposable
{
    private readonly Dictionary<int, SKTypeface> faceOf = [];
    private readonly Dictionary<nint, SKShaper> shapers = [];
    private readonly Dictionary<(nint, float), SKFont> fonts = [];

    /// <summary>True for words that the font cannot set by itself.</summary>
    public static bool Concerns(string text, SKFont font) =>
        !Ascii.IsValid(text) && (text.EnumerateRunes().Any(rune => IsFromRight(rune)) || !font.ContainsGlyphs(text));

    /// <summary>The width in logical units.</summary>
    public float Width(string text, SKFont font) => Lay(text, font).Sum(piece => piece.Shaped.Width);

    /// <summary>Words ready to be drawn.</summary>
    public TextShape Shape(string text, SKFont font)
    {
        using SKTextBlobBuilder builder = new();
        float width = 0;
        foreach (Piece piece in Lay(text, font))
        {
            float from = width;
            ushort[] signs = [.. piece.Shaped.Codepoints.Select(sign => (ushort)sign)];
            SKPoint[] places = [.. piece.Shaped.Points.Select(point => new SKPoint(point.X + from, point.Y))];
            if (signs.Length > 0)
            {
                builder.AddPositionedRun(signs, piece.Font, places);
            }

            width += piece.Shaped.Width;
        }

        return new TextShape(builder.Build(), width);
    }

    public void Dispose()
    {
        foreach (SKFont font in fonts.Values)
        {
            font.Dispose();
        }

        foreach (SKShaper shaper in shapers.Values)
        {
            shaper.Dispose();
        }
    }

    /// <summary>Stretches of one direction, from left to right as they are seen.</summary>
    internal static IReadOnlyList<(string Text, bool IsFromRight)> Directions(string text)
    {
        Rune[] runes = [.. text.EnumerateRunes()];
        bool?[] strong = [.. runes.Select(Direction)];
        bool line = strong.FirstOrDefault(each => each is not null) ?? false;
        List<(StringBuilder Text, bool IsFromRight)> stretches = [];
        bool before = line;
        for (int i = 0; i < runes.Length; i++)
        {
            bool next = strong.Skip(i).FirstOrDefault(each => each is not null) ?? line;
            bool own = strong[i] ?? (before == next ? before : line);
            before = strong[i] ?? before;
            if (stretches.Count == 0 || stretches[^1].IsFromRight != own)
            {
                stretches.Add((new StringBuilder(), own));
            }

            stretches[^1].Text.Append(runes[i]);
        }

        IEnumerable<(string, bool)> seen = stretches.Select(each => (each.Text.ToString(), each.IsFromRight));
        return [.. line ? seen.Reverse() : seen];
    }

    private List<Piece> Lay(string text, SKFont font)
    {
        List<Piece> pieces = [];
        foreach ((string stretch, bool isFromRight) in Directions(text))
        {
            IEnumerable<Piece> own = Faces(stretch, font).Select(part => Set(part.Text, part.Face, font.Size, isFromRight));
            pieces.AddRange(isFromRight ? own.Reverse() : own);
        }

        return pieces;
    }

    private List<(string Text, SKTypeface Face)> Faces(string stretch, SKFont font)
    {
        List<(StringBuilder Text, SKTypeface Face)> parts = [];
        foreach (Rune rune in stretch.EnumerateRunes())
        {
            // What joins to a letter is set in the font of that letter.
            bool joins = Rune.GetUnicodeCategory(rune) is UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark or UnicodeCategory.SpacingCombiningMark or UnicodeCategory.Format;
            SKTypeface face = joins && parts.Count > 0 ? parts[^1].Face : FaceOf(rune, font);
            if (parts.Count == 0 || parts[^1].Face.Handle != face.Handle)
            {
                parts.Add((new StringBuilder(), face));
            }

            parts[^1].Text.Append(rune);
        }

        return [.. parts.Select(part => (part.Text.ToString(), part.Face))];
    }

    private SKTypeface FaceOf(Rune rune, SKFont font)
    {
        if (font.ContainsGlyph(rune.Value))
        {
            return font.Typeface;
        }

        if (!faceOf.TryGetValue(rune.Value, out SKTypeface? face))
        {
            faceOf[rune.Value] = face = SKFontManager.Default.MatchCharacter(rune.Value) ?? font.Typeface;
        }

        return face;
    }

    private Piece Set(string text, SKTypeface face, float size, bool isFromRight)
    {
        if (!fonts.TryGetValue((face.Handle, size), out SKFont? font))
        {
            fonts[(face.Handle, size)] = font = new SKFont(face, size) { Edging = SKFontEdging.Antialias, Subpixel = true, Hinting = SKFontHinting.None };
        }

        if (!shapers.TryGetValue(face.Handle, out SKShaper? shaper))
        {
            shapers[face.Handle] = shaper = new SKShaper(face);
        }

        // Brackets by themselves do not tell which way they open.
        using Buffer letters = new();
        letters.AddUtf16(text);
        letters.GuessSegmentProperties();
        letters.Direction = isFromRight ? ReadingDirection.RightToLeft : ReadingDirection.LeftToRight;
        return new Piece(font, shaper.Shape(letters, font));
    }

    // Letters and figures have a direction; figures run from left to right wherever they stand.
    private static bool? Direction(Rune rune) => IsFromRight(rune) ? true : Rune.IsLetterOrDigit(rune) ? false : null;

    // Hebrew, Arabic and their neighbours, with their presentation forms (Unicode blocks U+0590–08FF, FB1D–FDFF, FE70–FEFF,
    // 10800–10FFF, 1E800–1EFFF), but for the figures among them.
    private static bool IsFromRight(Rune rune) =>
        rune.Value is (>= 0x590 and <= 0x8FF) or (>= 0xFB1D and <= 0xFDFF) or (>= 0xFE70 and <= 0xFEFE) or (>= 0x10800 and <= 0x10FFF) or (>= 0x1E800 and <= 0x1EFFF)
        && Rune.GetUnicodeCategory(rune) != UnicodeCategory.DecimalDigitNumber;

    private sealed record Piece(SKFont Font, SKShaper.Result Shaped);
}
