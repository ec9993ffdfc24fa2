using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>A time during which the runtime held all threads to collect garbage.</summary>
/// <param name="Begin">A timestamp of <see cref="Stopwatch"/> not after its beginning.</param>
/// <param name="End">One not before its end.</param>
/// <param name="Ticks">Ticks of <see cref="Stopwatch"/> that it took, as the runtime counts them.</param>
/// <param name="Generation">The oldest generation that was collected.</param>
/// <param name="IsConcurrent">True where the collection went on beside the threads, and held them only at its corners; or where its kind is not known.</param>
public readonly record struct RuntimeStop(long Begin, long End, long Ticks, int Generation, bool IsConcurrent)
{
    /// <summary>How long it took.</summary>
    public double Milliseconds => Ticks * 1e3 / Stopwatch.Frequency;

    /// <summary>As much of it as can lie in a span of timestamps.</summary>
    public RuntimeStop Within(long from, long to)
    {
        long begin = Math.Max(Begin, from);
        long end = Math.Min(End, to);
        return this with { Begin = begin, End = end, Ticks = Math.Min(Ticks, end - begin) };
    }
}
