using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>A time during which the runtime held all threads.</summary>
/// <param name="Begin">When it began to stop them: a timestamp of <see cref="Stopwatch"/>.</param>
/// <param name="End">When they ran again.</param>
/// <param name="Generation">The oldest generation of the collection that began in it; <see cref="NoCollection"/> for none.</param>
/// <param name="IsConcurrent">True where that collection goes on beside the threads, and stops them only at its corners.</param>
public readonly record struct RuntimeStop(long Begin, long End, int Generation, bool IsConcurrent)
{
    /// <summary>What <see cref="Generation"/> says where no collection began: a corner of a concurrent one, or another cause.</summary>
    public const int NoCollection = -1;

    /// <summary>How long it took.</summary>
    public double Milliseconds => (End - Begin) * 1e3 / Stopwatch.Frequency;
}
