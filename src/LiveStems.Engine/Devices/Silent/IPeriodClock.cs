namespace LiveStems.Engine.Devices.Silent;

/// <summary>A clock that can be waited for.</summary>
internal interface IPeriodClock
{
    /// <summary>Ticks per second.</summary>
    long Frequency { get; }

    /// <summary>The time in ticks.</summary>
    long Now { get; }

    /// <summary>Returns at this time or later, never before.</summary>
    void WaitUntil(long due);
}
