using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>What a call for sound cost and lacked beyond what its thread could see, because another thread renders.</summary>
/// <param name="Ticks">Ticks of <see cref="Stopwatch"/> that rendering took there.</param>
/// <param name="CompiledMethods">Methods that the runtime had to compile there.</param>
/// <param name="HasHole">True when some of the sound was not there in time.</param>
public readonly record struct RenderedElsewhere(long Ticks, long CompiledMethods, bool HasHole);
