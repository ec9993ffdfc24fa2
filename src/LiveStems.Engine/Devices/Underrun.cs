using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>A time at which a device ran dry.</summary>
/// <param name="Timestamp">When it was noticed, which is when the sound was ready: a timestamp of <see cref="Stopwatch"/>.</param>
/// <param name="LateTicks">How long after its deadline the sound was ready, in ticks of <see cref="Stopwatch"/>; 0 when the device does not tell.</param>
public readonly record struct Underrun(long Timestamp, long LateTicks);
