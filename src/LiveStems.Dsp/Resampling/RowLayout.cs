namespace LiveStems.Dsp.Resampling;

/// <summary>
/// How the filter taps of one output (a row) lie in memory, for outputs computed in groups of four over one common window
/// of input frames.
/// </summary>
/// <remarks>
/// <para>
/// The window starts <see cref="HalfTaps"/> − 1 frames before the input frame of the group's first output. A later output
/// of the group lags up to <see cref="MostLag"/> frames behind it; its row is read from that much before its first tap,
/// where zeros stand, so that one load of the input serves all four.
/// </para>
/// <para>
/// The taps around the centre (the heart) are large and are kept and summed in double; the others (the tails) hold about a
/// hundredth of the energy and are kept and summed in float, with zeros in place of the heart. So rounding stays below
/// that of the float output, at nearly the speed of a float filter.
/// </para>
/// </remarks>
internal sealed class RowLayout
{
    public const int GroupSize = 4;
    public const int TailLanes = 8;
    public const int HeartLanes = 4;

    private const double HeartPeriods = 8;

    public RowLayout(ResamplingRatio ratio, double halfWidth)
    {
        HalfTaps = (int)Math.Ceiling(halfWidth);
        MostLag = (int)((ratio.Up - 1 + (GroupSize - 1L) * ratio.Down) / ratio.Up);
        WindowFrames = RoundUp(2 * HalfTaps + MostLag, TailLanes);
        TailStride = RoundUp(MostLag + WindowFrames, TailLanes);

        int halfHeart = Math.Min(HalfTaps, (int)Math.Ceiling(HeartPeriods * ratio.Stretch));
        HeartStart = HalfTaps - halfHeart;
        HeartTaps = 2 * halfHeart;
        HeartFrames = RoundUp(HeartTaps + MostLag, HeartLanes);
        HeartStride = RoundUp(MostLag + HeartFrames, HeartLanes);
    }

    /// <summary>Taps on either side of the centre.</summary>
    public int HalfTaps { get; }

    /// <summary>All taps.</summary>
    public int Taps => 2 * HalfTaps;

    /// <summary>The most frames by which an output can lag behind the first of its group.</summary>
    public int MostLag { get; }

    /// <summary>Input frames a group reads: whole vectors of <see cref="TailLanes"/>.</summary>
    public int WindowFrames { get; }

    /// <summary>First tap of the heart, and first frame of the window that meets it.</summary>
    public int HeartStart { get; }

    /// <summary>Taps of the heart.</summary>
    public int HeartTaps { get; }

    /// <summary>Input frames that meet a heart: whole vectors of <see cref="HeartLanes"/>, inside the window.</summary>
    public int HeartFrames { get; }

    /// <summary>Floats from row to row.</summary>
    public int TailStride { get; }

    /// <summary>Doubles from row to row.</summary>
    public int HeartStride { get; }

    /// <summary>Where the tails of row <paramref name="row"/> are read for the window's first frame.</summary>
    public int TailOffset(int row, int lag) => row * TailStride + MostLag - lag;

    /// <summary>Where the heart of row <paramref name="row"/> is read for frame <see cref="HeartStart"/> of the window.</summary>
    public int HeartOffset(int row, int lag) => row * HeartStride + MostLag - lag;

    private static int RoundUp(int value, int multiple) => (value + multiple - 1) / multiple * multiple;
}
