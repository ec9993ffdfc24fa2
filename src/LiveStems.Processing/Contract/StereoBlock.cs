namespace LiveStems.Processing.Contract;

/// <summary>
/// A stretch of planar stereo sound that a processor changes in place, together with the key signal its detectors
/// listen to. All four spans have the same length.
/// </summary>
/// <remarks>
/// Without a key of its own the key spans are the same memory as <see cref="Left"/> and <see cref="Right"/>, so a
/// processor must read the key of a frame before it writes that frame.
/// </remarks>
public readonly ref struct StereoBlock
{
    /// <summary>The sound is its own key.</summary>
    public StereoBlock(Span<float> left, Span<float> right)
        : this(left, right, left, right)
    {
    }

    /// <summary>The sound listens to another signal of the same length.</summary>
    public StereoBlock(Span<float> left, Span<float> right, ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight)
    {
        Left = left;
        Right = right;
        KeyLeft = keyLeft;
        KeyRight = keyRight;
    }

    /// <summary>Left samples, full scale ±1.</summary>
    public Span<float> Left { get; }

    /// <summary>Right samples, full scale ±1.</summary>
    public Span<float> Right { get; }

    /// <summary>Left samples of the signal that detectors listen to.</summary>
    public ReadOnlySpan<float> KeyLeft { get; }

    /// <summary>Right samples of the signal that detectors listen to.</summary>
    public ReadOnlySpan<float> KeyRight { get; }

    /// <summary>Frames in the block.</summary>
    public int Frames => Left.Length;

    /// <summary>The part of the block that starts at <paramref name="start"/> and is <paramref name="frames"/> long.</summary>
    public StereoBlock Slice(int start, int frames) => new(
        Left.Slice(start, frames),
        Right.Slice(start, frames),
        KeyLeft.Slice(start, frames),
        KeyRight.Slice(start, frames));
}
