namespace LiveStems.Tests.Engine.Live;

/// <summary>A clock that goes on only when told to.</summary>
internal sealed class HandClock : TimeProvider
{
    private long ticks;
    private int readings;

    /// <summary>How often it has been read.</summary>
    public int Readings => Volatile.Read(ref readings);

    public override long TimestampFrequency => 10_000_000;

    public override long GetTimestamp()
    {
        Interlocked.Increment(ref readings);
        return Interlocked.Read(ref ticks);
    }

    public void Pass(double seconds) => Interlocked.Add(ref ticks, (long)(seconds * TimestampFrequency));
}
