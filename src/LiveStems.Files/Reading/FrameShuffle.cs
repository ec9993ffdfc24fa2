using System.Runtime.Intrinsics;

namespace LiveStems.Files.Reading;

/// <summary>
/// How four interleaved frames become four 32-bit lanes a channel: two overlapping 16-byte loads cover the frames whatever
/// the width of a sample, and byte shuffles pick one channel's bytes out of each and lay them left-justified into the
/// lanes. One kernel so serves every width and byte order, differing only in these tables.
/// </summary>
internal sealed class FrameShuffle
{
    private const byte Zero = 255;

    private readonly SampleLayout layout;
    private readonly int frameBytes;

    internal FrameShuffle(SampleLayout layout, int channels)
    {
        this.layout = layout;
        frameBytes = layout.Bytes * channels;
        SecondLoad = Math.Max(0, StepBytes - 16);
        LeftFromFirst = Picks(channel: 0, isSecond: false);
        LeftFromSecond = Picks(channel: 0, isSecond: true);
        RightFromFirst = Picks(channels - 1, isSecond: false);
        RightFromSecond = Picks(channels - 1, isSecond: true);
    }

    /// <summary>Bytes of four frames.</summary>
    internal int StepBytes => 4 * frameBytes;

    /// <summary>Where the second load starts, after the first; it ends with the fourth frame, or is the first again.</summary>
    internal int SecondLoad { get; }

    internal Vector128<byte> LeftFromFirst { get; }

    internal Vector128<byte> LeftFromSecond { get; }

    internal Vector128<byte> RightFromFirst { get; }

    internal Vector128<byte> RightFromSecond { get; }

    /// <summary>Frames, a multiple of four, that vectors can take without reading past the end of the bytes.</summary>
    internal int WholeVectors(int bytes, int frames)
    {
        int reach = Math.Max(16, StepBytes);
        int byBytes = bytes < reach ? 0 : ((bytes - reach) / StepBytes) + 1;
        return 4 * Math.Min(byBytes, frames / 4);
    }

    private Vector128<byte> Picks(int channel, bool isSecond)
    {
        Span<byte> picks = stackalloc byte[16];
        picks.Fill(Zero);
        for (int frame = 0; frame < 4; frame++)
        {
            int sample = (frame * frameBytes) + (channel * layout.Bytes);
            bool isInSecond = sample + layout.Bytes > 16;
            if (isInSecond != isSecond)
            {
                continue;
            }

            for (int rank = 0; rank < layout.Bytes; rank++)
            {
                picks[(4 * frame) + 3 - rank] = (byte)(sample + layout.ByteOfRank(rank) - (isInSecond ? SecondLoad : 0));
            }
        }

        return Vector128.Create<byte>(picks);
    }
}
