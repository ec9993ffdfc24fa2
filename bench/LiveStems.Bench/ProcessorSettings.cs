namespace LiveStems.Bench;

/// <summary>Settings that more than one measurement uses.</summary>
internal static class ProcessorSettings
{
    /// <summary>High-pass, two shelves and three bells.</summary>
    public static (string Id, double Value)[] SixBands { get; } =
    [
        ("band2.on", 1), ("band2.shape", 1), ("band2.frequencyHz", 120), ("band2.gainDb", 2),
        ("band3.on", 1), ("band3.frequencyHz", 300), ("band3.gainDb", -3), ("band3.q", 1),
        ("band4.on", 1), ("band4.frequencyHz", 1000), ("band4.gainDb", -1), ("band4.q", 1),
        ("band5.on", 1), ("band5.frequencyHz", 3000), ("band5.gainDb", 2), ("band5.q", 1),
        ("band6.on", 1), ("band6.shape", 2), ("band6.frequencyHz", 9000), ("band6.gainDb", 2),
    ];

    /// <summary>Bells from 200 Hz upwards, an octave and a half apart, whose gains move with programme.</summary>
    public static (string Id, double Value)[] Dynamic(int count) =>
    [
        ("band1.on", 0),
        .. Enumerable.Range(2, count).SelectMany(band => new[]
        {
            ($"band{band}.on", 1.0), ($"band{band}.frequencyHz", 200 * Math.Pow(2, 1.5 * (band - 2))), ($"band{band}.dynamic", 1),
            ($"band{band}.thresholdDb", -40), ($"band{band}.rangeDb", -9), ($"band{band}.ratio", 3), ($"band{band}.releaseMs", 60),
        }),
    ];
}
