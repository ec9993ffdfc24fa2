using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Runs sections whose coefficients move, three at a time as a band has them, so that none waits for another.
/// </summary>
internal sealed class GlidingSections
{
    /// <summary>The most sections that one call runs.</summary>
    public const int AtOnce = 3;

    private readonly GlideTable first = new();
    private readonly GlideTable second = new();
    private readonly GlideTable third = new();

    /// <summary>Runs one to three sections over a stretch of [left right] frames, in place.</summary>
    /// <param name="frames">The sound, at most <see cref="GlideTable.Frames"/> frames.</param>
    /// <param name="sections">The places of the sections.</param>
    /// <param name="glide">The glide that they are in.</param>
    /// <param name="band">States of the band integrators, by place.</param>
    /// <param name="low">States of the low integrators, by place.</param>
    public void Run(
        Span<Vector128<double>> frames, ReadOnlySpan<int> sections, in Glide glide, Span<Vector128<double>> band, Span<Vector128<double>> low)
    {
        Fill(first, sections, 0, glide, frames.Length);
        Fill(second, sections, 1, glide, frames.Length);
        Fill(third, sections, 2, glide, frames.Length);
        (Vector128<double> b0, Vector128<double> l0) = (band[sections[0]], low[sections[0]]);
        (Vector128<double> b1, Vector128<double> l1) = sections.Length > 1 ? (band[sections[1]], low[sections[1]]) : default;
        (Vector128<double> b2, Vector128<double> l2) = sections.Length > 2 ? (band[sections[2]], low[sections[2]]) : default;
        for (int n = 0; n < frames.Length; n++)
        {
            Vector128<double> x = first.Run(n, frames[n], ref b0, ref l0);
            x = second.Run(n, x, ref b1, ref l1);
            frames[n] = third.Run(n, x, ref b2, ref l2);
        }

        (band[sections[0]], low[sections[0]]) = (b0, l0);
        if (sections.Length > 1)
        {
            (band[sections[1]], low[sections[1]]) = (b1, l1);
        }

        if (sections.Length > 2)
        {
            (band[sections[2]], low[sections[2]]) = (b2, l2);
        }
    }

    // A place without a section passes sound unchanged.
    private static void Fill(GlideTable table, ReadOnlySpan<int> sections, int index, in Glide glide, int count)
    {
        if (index < sections.Length)
        {
            table.Fill(glide.From[sections[index]], glide.To[sections[index]], glide.Position, glide.Length, count);
        }
        else
        {
            table.Fill(StateVariableCoefficients.Neutral, StateVariableCoefficients.Neutral, 0, 1, count);
        }
    }

    /// <summary>Where sections come from, where they go, and how far they are.</summary>
    /// <param name="from">Coefficients at the start, by place.</param>
    /// <param name="to">Coefficients at the end, by place.</param>
    /// <param name="position">Frames that are over.</param>
    /// <param name="length">Frames of the whole glide.</param>
    public readonly ref struct Glide(
        ReadOnlySpan<StateVariableCoefficients> from, ReadOnlySpan<StateVariableCoefficients> to, int position, int length)
    {
        public ReadOnlySpan<StateVariableCoefficients> From { get; } = from;

        public ReadOnlySpan<StateVariableCoefficients> To { get; } = to;

        public int Position { get; } = position;

        public int Length { get; } = length;
    }
}
