namespace LiveStems.Engine.Hosting;

/// <summary>
/// Time in which this program itself ran, for judging others: a machine that slept, or a program that was stopped, is no
/// proof that anybody hangs. Whoever judges looks again and again; who looks every 50 ms or so counts no more of a longer pause.
/// </summary>
internal struct RunningTime()
{
    private static readonly TimeSpan MostBetweenLooks = TimeSpan.FromMilliseconds(60);

    private long last = TimeProvider.System.GetTimestamp();
    private TimeSpan sum;

    /// <summary>A look; how much has counted since the beginning.</summary>
    public TimeSpan Look()
    {
        long now = TimeProvider.System.GetTimestamp();
        TimeSpan passed = TimeProvider.System.GetElapsedTime(last, now);
        last = now;
        sum += passed < MostBetweenLooks ? passed : MostBetweenLooks;
        return sum;
    }

    /// <summary>Begins anew.</summary>
    public void Restart()
    {
        last = TimeProvider.System.GetTimestamp();
        sum = TimeSpan.Zero;
    }
}
