using System.Collections.Concurrent;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Resampling;

/// <summary>Sizes and tables of a <see cref="SpectralStage"/>, designed once for a ratio and shared.</summary>
/// <remarks>
/// A block is <c>Repeats</c> periods of both rates long, so that both transforms hold whole numbers of frames; of it
/// <c>Kept</c> periods are whole, the rest meets the filter's ends. Sizes are those that cost least for each frame kept.
/// </remarks>
internal sealed class SpectralPlan
{
    private const int MostTransformed = 8192;
    private const int CachedReals = 4096;

    private static readonly ConcurrentDictionary<(int Up, int Down, double LowerRate), SpectralPlan?> Designed = new();

    private SpectralPlan(ResamplingRatio ratio, double lowerRate, int repeats, int kept)
    {
        InputSize = ratio.Down * repeats;
        OutputSize = ratio.Up * repeats;
        InputStep = ratio.Down * kept;
        OutputStep = ratio.Up * kept;
        Lead = LeadFrames(lowerRate);
        Input = new EightTransforms(InputSize / 2);
        Output = new EightTransforms(OutputSize / 2);
        Bins = Math.Min(Math.Min(InputSize, OutputSize) / 2, (int)Math.Ceiling(InputSize * lowerRate / 2));
        Filter = new double[4 * Bins];
        for (int k = 0; k < Bins; k++)
        {
            // The filter, put forward by the lead and scaled for both transforms; then the same for the odd part of the half-size transform.
            double gain = LowerRateSpectrum.Shared.At(k / (InputSize * lowerRate)) / (2.0 * InputSize);
            (double sine, double cosine) = TwiddleTables.Turn((long)k * Lead, InputSize);
            (double sineOdd, double cosineOdd) = TwiddleTables.Turn((long)k * (Lead - 1), InputSize);
            Filter[4 * k] = gain * cosine;
            Filter[4 * k + 1] = gain * sine;
            Filter[4 * k + 2] = gain * sineOdd;
            Filter[4 * k + 3] = -gain * cosineOdd;
        }

        Turns = new double[OutputSize];
        for (int k = 0; k < OutputSize / 2; k++)
        {
            (double sine, double cosine) = TwiddleTables.Turn(k, OutputSize);
            Turns[2 * k] = -sine;
            Turns[2 * k + 1] = cosine;
        }
    }

    /// <summary>Input frames that are transformed at a time.</summary>
    public int InputSize { get; }

    /// <summary>Output frames of the way back.</summary>
    public int OutputSize { get; }

    /// <summary>Input frames from block to block.</summary>
    public int InputStep { get; }

    /// <summary>Output frames from block to block.</summary>
    public int OutputStep { get; }

    /// <summary>Input frames of a block before its first output.</summary>
    public int Lead { get; }

    /// <summary>Bins below the Nyquist frequency of the lower rate.</summary>
    public int Bins { get; }

    public EightTransforms Input { get; }

    public EightTransforms Output { get; }

    /// <summary>Two complex factors a bin: of the even and of the odd part.</summary>
    public double[] Filter { get; }

    /// <summary>i·e^(2πik/N) of the way back for the first half of the bins.</summary>
    public double[] Turns { get; }

    /// <summary>The plan for a ratio, or null where its numbers are too large or have prime factors above 7.</summary>
    /// <param name="ratio">From input to output.</param>
    /// <param name="lowerRate">The lower rate of the whole chain, as a share of the input rate.</param>
    public static SpectralPlan? For(ResamplingRatio ratio, double lowerRate) =>
        Designed.GetOrAdd((ratio.Up, ratio.Down, lowerRate), _ => Design(ratio, lowerRate));

    private static SpectralPlan? Design(ResamplingRatio ratio, double lowerRate)
    {
        int lead = LeadFrames(lowerRate);
        (double Cost, int Repeats, int Kept) best = (double.PositiveInfinity, 0, 0);
        for (int repeats = 2; Math.Max(ratio.Up, ratio.Down) * repeats <= MostTransformed; repeats += 2)
        {
            // The last output kept lies one output frame before the next block's first.
            int input = ratio.Down * repeats;
            int kept = (input - 2 * lead) / ratio.Down;
            double cost = (Cost(input) + Cost(ratio.Up * repeats)) / kept;
            if (kept > 0 && cost < best.Cost)
            {
                best = (cost, repeats, kept);
            }
        }

        return best.Repeats == 0 ? null : new SpectralPlan(ratio, lowerRate, best.Repeats, best.Kept);
    }

    private static int LeadFrames(double lowerRate) => (int)Math.Ceiling(ResamplingPrototype.LowerRatePeriods / 2 / lowerRate);

    /// <summary>Cost of a transform of so many real frames and of its ends, in passes of radix 4; measured.</summary>
    private static double Cost(int frames)
    {
        if (EightTransforms.Factors(frames / 2) is not { } factors)
        {
            return double.PositiveInfinity;
        }

        double passes = factors.Sum(radix => radix switch { 8 => 1.5, 7 => 2, 5 => 1.4, 4 => 1, 3 => 0.95, _ => 0.8 });
        double cache = frames > CachedReals ? 1.6 : 1;
        return frames * cache * (passes + 2);
    }
}
