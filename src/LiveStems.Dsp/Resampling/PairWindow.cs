using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Resampling;

/// <summary>Stereo frames as pairs of doubles, without gaps, from a start that only moves forwards.</summary>
internal sealed class PairWindow
{
    private readonly double[] pairs;
    private readonly int capacity;
    private long origin;
    private int filled;
    private int start;

    /// <param name="windowFrames">Frames that are needed at a time.</param>
    /// <param name="mostAppended">Frames that come at a time where all must be taken.</param>
    public PairWindow(int windowFrames, int mostAppended)
    {
        // Room for what is kept to move seldom.
        capacity = 2 * windowFrames + mostAppended;
        pairs = new double[2 * capacity];
    }

    /// <summary>The frame after the last held.</summary>
    public long End => origin + filled;

    /// <summary>Forgets everything and begins at a frame.</summary>
    public void Restart(long frame)
    {
        origin = frame;
        start = 0;
        filled = 0;
    }

    /// <summary>Forgets what lies before a frame, and says whether so many from there are held.</summary>
    public bool Holds(long frame, int frames)
    {
        start = (int)(frame - origin);
        return start + frames <= filled;
    }

    /// <summary>Pairs from the start on.</summary>
    public ReadOnlySpan<double> From(int frames) => pairs.AsSpan(2 * start, 2 * frames);

    /// <summary>Room for so many frames behind those held, which the caller fills.</summary>
    public Span<double> Extend(int frames)
    {
        MakeRoom(frames);
        Span<double> room = pairs.AsSpan(2 * filled, 2 * frames);
        filled += frames;
        return room;
    }

    /// <summary>Takes as many frames as there is room for and returns how many.</summary>
    public int Append(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        MakeRoom(left.Length);
        int frames = Math.Min(left.Length, capacity - filled);
        Interleave(left[..frames], right[..frames], pairs.AsSpan(2 * filled));
        filled += frames;
        return frames;
    }

    /// <summary>Takes silence up to a frame, as far as there is room.</summary>
    public void AppendSilence(int frames)
    {
        MakeRoom(frames);
        frames = Math.Min(frames, capacity - filled);
        pairs.AsSpan(2 * filled, 2 * frames).Clear();
        filled += frames;
    }

    /// <summary>Pairs into both channels, rounded to floats.</summary>
    public static void Separate(ReadOnlySpan<double> pairs, Span<float> left, Span<float> right)
    {
        int frames = pairs.Length / 2;
        int done = 0;
        if (Vector512.IsHardwareAccelerated)
        {
            ref double source = ref MemoryMarshal.GetReference(pairs);
            ref float l = ref MemoryMarshal.GetReference(left[..frames]);
            ref float r = ref MemoryMarshal.GetReference(right[..frames]);
            for (; done <= frames - 4; done += 4)
            {
                Vector512<double> four = PairLanes.Separate(Vector512.LoadUnsafe(ref source, (nuint)(2 * done)));
                Vector256<float> both = Vector256.Narrow(four.GetLower(), four.GetUpper());
                both.GetLower().StoreUnsafe(ref l, (nuint)done);
                both.GetUpper().StoreUnsafe(ref r, (nuint)done);
            }
        }

        for (; done < frames; done++)
        {
            left[done] = (float)pairs[2 * done];
            right[done] = (float)pairs[2 * done + 1];
        }
    }

    private void MakeRoom(int frames)
    {
        if (filled + frames <= capacity || start == 0)
        {
            return;
        }

        int kept = filled - start;
        pairs.AsSpan(2 * start, 2 * kept).CopyTo(pairs);
        origin += start;
        filled = kept;
        start = 0;
    }

    private static void Interleave(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<double> pairs)
    {
        int done = 0;
        if (Vector512.IsHardwareAccelerated)
        {
            ref float l = ref MemoryMarshal.GetReference(left);
            ref float r = ref MemoryMarshal.GetReference(right);
            ref double target = ref MemoryMarshal.GetReference(pairs);
            for (; done <= left.Length - 4; done += 4)
            {
                Vector256<float> both = Vector256.Create(
                    Vector128.LoadUnsafe(ref l, (nuint)done), Vector128.LoadUnsafe(ref r, (nuint)done));
                (Vector256<double> lower, Vector256<double> upper) = Vector256.Widen(both);
                PairLanes.Interleave(Vector512.Create(lower, upper)).StoreUnsafe(ref target, (nuint)(2 * done));
            }
        }

        for (; done < left.Length; done++)
        {
            pairs[2 * done] = left[done];
            pairs[2 * done + 1] = right[done];
        }
    }
}
