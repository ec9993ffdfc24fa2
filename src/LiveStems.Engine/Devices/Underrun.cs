using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>A time at which a device ran dry.</summary>
/// <param name="Timestamp">When it was noticed, which is when the sound was ready: a timestamp of <see cref="Stopwatch"/>.</param>
/// <param name="PunctualTimestamp">The latest time before at which the sound was not behind: what made it late came after; the same as <paramref name="Timestamp"/> when the device does not tell.</param>
/// <param name="LateTicks">How long after its deadline the sound was ready, in ticks of <see cref="Stopwatch"/>; 0 when the device does not tell.</param>
/// <param name="CallTicks">How long the call took that was too late, in the same ticks: what is missing to its lateness came before it; 0 when the device does not tell.</param>
public readonly record struct Underrun(long Timestamp, long PunctualTimestamp, long LateTicks, long CallTicks = 0);
