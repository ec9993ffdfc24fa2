using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The highest magnitude of the reconstructed waveform between each sample and the next, on a grid of sixteenths of a
/// sample (ITU-R BS.1770-5 Annex 2 with a ratio of 16 and a longer filter than its example).
/// </summary>
/// <remarks>
/// Four doublings, each of which only makes the points half-way between those it has: <see cref="HalfWayFilter"/>, which
/// decides how near to half the sample rate the waveform is followed (6 dB down there); <see cref="QuarterPoints"/>;
/// <see cref="GridPeaks"/>. The grid misses at most 20 log cos(π/32) = −0.042 dB of a tone at half the sample rate, less
/// below it (Annex 2, attachment 1); the grid of eighths −0.169 dB.
/// </remarks>
internal sealed class InterSamplePeak
{
    private const int Lanes = 8;

    // Halves and quarters look back a few places in each other, a vector is more than any of them needs; and as far again
    // as must be caught up on after a passage that was passed over.
    private const int ShortHistory = Lanes + BandEdgeAllowance.LookBack;

    private readonly HalfWayFilter halfWay;
    private readonly int history;
    private readonly int room;
    private readonly float[] samples;
    private readonly float[] halves;
    private readonly float[] firsts;
    private readonly float[] lasts;
    private readonly BandEdgeAllowance? allowance;
    private int start;
    private int passedOver;

    /// <summary>An interpolator for one channel.</summary>
    /// <param name="halfLength">Taps a side of the half-way filter, a multiple of eight.</param>
    /// <param name="kaiserBeta">Shape of its Kaiser window.</param>
    /// <param name="allowsForBandEdge">True to add a <see cref="BandEdgeAllowance"/>.</param>
    /// <param name="maximumFrames">The longest run handed over at once.</param>
    public InterSamplePeak(int halfLength, double kaiserBeta, bool allowsForBandEdge, int maximumFrames)
    {
        halfWay = new HalfWayFilter(halfLength, kaiserBeta);
        history = 2 * halfLength + ShortHistory;
        room = 2 * maximumFrames;
        int padded = room + 4 * Lanes;
        samples = Unmoved.Array<float>(history + padded);
        halves = Unmoved.Array<float>(ShortHistory + padded);
        firsts = Unmoved.Array<float>(ShortHistory + padded);
        lasts = Unmoved.Array<float>(ShortHistory + padded);
        allowance = allowsForBandEdge ? new BandEdgeAllowance(halfWay, room) : null;
    }

    /// <summary>Samples by which the intervals lag behind the input.</summary>
    public int DelaySamples => halfWay.HalfLength + QuarterPoints.Reach;

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        passedOver = 0;
        Array.Clear(samples);
        Array.Clear(halves);
        Array.Clear(firsts);
        Array.Clear(lasts);
        allowance?.Reset();
        start = 0;
    }

    /// <summary>
    /// Takes samples in; <c>peaks[i]</c> becomes the highest magnitude from input i − <see cref="DelaySamples"/> to the
    /// one after it.
    /// </summary>
    /// <param name="input">Finite samples.</param>
    /// <param name="closerFrom">
    /// Sixteenths are looked at where a peak on the grid of eighths passes this; elsewhere the reading may be up to 0.17 dB
    /// low.
    /// </param>
    /// <param name="peaks">Peaks; room for whole vectors of eight.</param>
    public void Process(ReadOnlySpan<float> input, float closerFrom, Span<float> peaks)
    {
        int frames = input.Length;
        TakeIn(input);

        // After a passage without peaks, what the first ones look back on is made up for.
        int again = Math.Min(passedOver, BandEdgeAllowance.LookBack);
        passedOver = 0;
        MakeGrid(start - again, frames + again);
        int newest = history + start - halfWay.HalfLength;
        int here = ShortHistory + start;
        GridPeaks.Take(
            ref samples[newest - 3], ref halves[here - 3], ref firsts[here - 1], ref lasts[here - 1], closerFrom, ref peaks[0], frames);
        allowance?.AddTo(start, peaks, frames);
        start += frames;
    }

    /// <summary>Takes samples in without looking for peaks; later ones are found as ever.</summary>
    public void PassOver(ReadOnlySpan<float> input)
    {
        TakeIn(input);
        passedOver = BandEdgeAllowance.LookBack;
        start += input.Length;
    }

    /// <summary>
    /// How much higher a peak of the next run may be read than another interpolator without an allowance reads it, on the grid
    /// of eighths: the difference of their half-way points and what follows from it for quarters and eighths, and the allowance.
    /// </summary>
    /// <param name="input">The next samples.</param>
    /// <param name="distance">How far the half-way points of both can lie apart (<see cref="HalfWayFilter.Distance"/>).</param>
    public double MostAbove(ReadOnlySpan<float> input, double distance)
    {
        double energy = Planar.Energy(samples.AsSpan(start, history)) + Planar.Energy(input);
        return 1.01 * Math.Sqrt(energy) * (GridPeaks.Gain * distance + (allowance?.Reach ?? 0));
    }

    private void TakeIn(ReadOnlySpan<float> input)
    {
        if (start + input.Length > room)
        {
            Rewind(samples, history);
            Rewind(halves, ShortHistory);
            Rewind(firsts, ShortHistory);
            Rewind(lasts, ShortHistory);
            allowance?.Rewind(start);
            start = 0;
        }

        input.CopyTo(samples.AsSpan(history + start));
    }

    private void MakeGrid(int first, int frames)
    {
        // A half follows the sample HalfLength back, both quarters of a sample follow it two later, when the halves on
        // both sides are there, and an interval is complete another one later, with the next sample's first quarter.
        int newest = history + first - halfWay.HalfLength;
        int here = ShortHistory + first;
        if (allowance is null)
        {
            halfWay.Process(ref samples[newest], ref halves[here], frames);
        }
        else
        {
            allowance.MakeHalves(first, ref samples[newest], ref halves[here], frames);
        }

        QuarterPoints.Make(ref samples[newest - 2], ref halves[here - 2], ref firsts[here], ref lasts[here], frames);
    }

    private void Rewind(float[] buffer, int kept) => buffer.AsSpan(start, kept).CopyTo(buffer);
}
