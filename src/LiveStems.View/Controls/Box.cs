using SkiaSharp;

namespace LiveStems.View.Controls;

/// <summary>A width and a height in logical units.</summary>
internal readonly record struct Extent(float Width, float Height);

/// <summary>A rectangle in logical units, from the upper left of the window.</summary>
internal readonly record struct Box(float X, float Y, float Width, float Height)
{
    public float Right => X + Width;

    public float Bottom => Y + Height;

    public float CentreX => X + Width / 2;

    public float CentreY => Y + Height / 2;

    public bool IsEmpty => Width <= 0 || Height <= 0;

    public static Box Between(float left, float top, float right, float bottom) => new(left, top, right - left, bottom - top);

    public bool Contains(float x, float y) => x >= X && x < Right && y >= Y && y < Bottom;

    public bool Meets(in Box other) => X < other.Right && other.X < Right && Y < other.Bottom && other.Y < Bottom;

    /// <summary>The box with so much taken away on every side.</summary>
    public Box Inset(float all) => Inset(all, all);

    /// <summary>The box with so much taken away left and right, above and below.</summary>
    public Box Inset(float sides, float ends) => new(X + sides, Y + ends, Math.Max(0, Width - 2 * sides), Math.Max(0, Height - 2 * ends));

    /// <summary>What both have in common; empty when nothing.</summary>
    public Box Common(in Box other)
    {
        float left = Math.Max(X, other.X);
        float top = Math.Max(Y, other.Y);
        return new(left, top, Math.Max(0, Math.Min(Right, other.Right) - left), Math.Max(0, Math.Min(Bottom, other.Bottom) - top));
    }

    /// <summary>The smallest box around both; an empty one does not count.</summary>
    public Box Around(in Box other) => IsEmpty ? other : other.IsEmpty ? this
        : Between(Math.Min(X, other.X), Math.Min(Y, other.Y), Math.Max(Right, other.Right), Math.Max(Bottom, other.Bottom));

    public SKRect ToSkia() => new(X, Y, Right, Bottom);
}
