using System.Runtime.InteropServices;

namespace LiveStems.Dsp.Resampling;

/// <summary>Holds the input frames that outputs yet to come will read, without gaps, from a start that only moves forwards.</summary>
internal sealed class InputWindow
{
    private readonly int windowFrames;
    private readonly float[] left;
    private readonly float[] right;
    private long origin;
    private int filled;
    private int start;

    public InputWindow(int windowFrames, int chunkFrames)
    {
        this.windowFrames = windowFrames;
        left = new float[windowFrames + chunkFrames];
        right = new float[windowFrames + chunkFrames];
    }

    /// <summary>The input frame after the last held.</summary>
    public long End => origin + filled;

    /// <summary>The left channel from the start of the window.</summary>
    public ref float Left => ref left[start];

    /// <summary>The right channel from the start of the window.</summary>
    public ref float Right => ref right[start];

    /// <summary>Forgets everything; frames before 0 are silence, held at once.</summary>
    public void Restart(long frame)
    {
        origin = frame;
        start = 0;
        filled = (int)Math.Min(windowFrames, Math.Max(0, -frame));
        left.AsSpan(0, filled).Clear();
        right.AsSpan(0, filled).Clear();
    }

    /// <summary>Moves the start of the window; true when all its frames are held.</summary>
    public bool MoveTo(long frame)
    {
        start = (int)(frame - origin);
        return start + windowFrames <= filled;
    }

    /// <summary>Takes as many frames as there is room for and returns how many.</summary>
    public int Append(ReadOnlySpan<float> leftInput, ReadOnlySpan<float> rightInput)
    {
        MakeRoom();
        int frames = Math.Min(leftInput.Length, left.Length - filled);
        leftInput[..frames].CopyTo(left.AsSpan(filled));
        rightInput[..frames].CopyTo(right.AsSpan(filled));
        filled += frames;
        return frames;
    }

    /// <summary>Fills the window with silence.</summary>
    public void AppendSilence()
    {
        MakeRoom();
        left.AsSpan(filled).Clear();
        right.AsSpan(filled).Clear();
        filled = left.Length;
    }

    private void MakeRoom()
    {
        int kept = filled - start;
        left.AsSpan(start, kept).CopyTo(left);
        right.AsSpan(start, kept).CopyTo(right);
        origin += start;
        filled = kept;
        start = 0;
    }
}
