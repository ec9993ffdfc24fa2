using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Model;

/// <summary>The numbers of the album, with the ranges that files and commands are checked against.</summary>
public static class AlbumFields
{
    /// <summary>Level of a stem before its chain.</summary>
    public static AlbumField GainDb { get; } = Linear("gainDb", "Gain", ParameterUnit.Decibels, -60, 24, 0, "Level of the stem before its chain.");

    /// <summary>Place of a stem between left and right.</summary>
    public static AlbumField Pan { get; } = Linear("pan", "Pan", ParameterUnit.None, -1, 1, 0, "−1 is left, 0 the centre, 1 right.");

    /// <summary>Alignment of a stem at the song's rate.</summary>
    public static AlbumField DelayFrames { get; } = Whole("delayFrames", "Delay", ParameterUnit.Samples, -96_000, 96_000, 0, "Delay of the stem; negative is earlier.");

    /// <summary>Level of a parallel on the song bus.</summary>
    public static AlbumField BlendDb { get; } = Linear("blendDb", "Blend", ParameterUnit.Decibels, -60, 12, 0, "Level of the parallel relative to its stem.");

    /// <summary>Fine delay of a parallel at the song's rate.</summary>
    public static AlbumField AlignSamples { get; } =
        Linear("alignSamples", "Alignment", ParameterUnit.Samples, -4800, 4800, 0, "Delay of the parallel against its stem, fractions too; negative is earlier.");

    /// <summary>Processed share of a processor's output.</summary>
    public static AlbumField MixPercent { get; } = Linear("mixPercent", "Mix", ParameterUnit.Percent, 0, 100, 100, "Processed share: 0 is dry, 100 wet.");

    /// <summary>Integrated loudness a master aims at (ITU-R BS.1770-5).</summary>
    public static AlbumField IntegratedLufs { get; } =
        Linear("integratedLufs", "Integrated loudness", ParameterUnit.None, -40, -5, -14, "Integrated loudness of the master.") with { UnitWord = "LUFS" };

    /// <summary>Highest true peak of a master (ITU-R BS.1770-5 Annex 2).</summary>
    public static AlbumField CeilingDbtp { get; } = Linear("ceilingDbtp", "Ceiling", ParameterUnit.DecibelsTruePeak, -20, 0, -1, "Highest true peak of the master.");

    /// <summary>Rate a song runs at.</summary>
    public static AlbumField SampleRateHz { get; } = Whole("sampleRateHz", "Sample rate", ParameterUnit.Hertz, 8_000, 384_000, 48_000, "Rate the song runs at.");

    /// <summary>Place of a note or marker in its song; a day is longer than any song.</summary>
    public static AlbumField AtSeconds { get; } = Linear("atSeconds", "Place", ParameterUnit.None, 0, 86_400, 0, "Seconds from the start of the song.") with { UnitWord = "s" };

    /// <summary>Smallest peak-to-loudness ratio of a master.</summary>
    public static AlbumField LeastPeakToLoudnessLu { get; } =
        Linear("leastPeakToLoudnessLu", "Least peak-to-loudness ratio", ParameterUnit.None, 3, 30, 8, "No louder than leaves this much between true peak and loudness.") with { UnitWord = "LU" };

    /// <summary>Silence before a song on the album.</summary>
    public static AlbumField GapBeforeSeconds { get; } = Seconds("gapBeforeSeconds", "Gap before", 60, 2, "Silence before the song on the album.");

    /// <summary>What is cut off the start of a song.</summary>
    public static AlbumField TrimStartSeconds { get; } = Seconds("trimStartSeconds", "Trim at start", 3600, 0, "What is cut off the start of the song.");

    /// <summary>What is cut off the end of a song.</summary>
    public static AlbumField TrimEndSeconds { get; } = Seconds("trimEndSeconds", "Trim at end", 3600, 0, "What is cut off the end of the song.");

    /// <summary>Fade at the start of a song.</summary>
    public static AlbumField FadeInSeconds { get; } = Seconds("fadeInSeconds", "Fade in", 120, 0, "Fade at the start of the song.");

    /// <summary>Fade at the end of a song.</summary>
    public static AlbumField FadeOutSeconds { get; } = Seconds("fadeOutSeconds", "Fade out", 120, 0, "Fade at the end of the song.");

    /// <summary>Time a song and the next sound together.</summary>
    public static AlbumField CrossFadeSeconds { get; } = Seconds("crossFadeSeconds", "Cross-fade into the next", 60, 0, "How long the song and the next sound together.");

    private static AlbumField Seconds(string id, string name, double maximum, double normal, string description) =>
        Linear(id, name, ParameterUnit.None, 0, maximum, normal, description) with { UnitWord = "s" };

    private static AlbumField Linear(string id, string name, ParameterUnit unit, double minimum, double maximum, double normal, string description) =>
        new(new ParameterSpec(id, name, unit, minimum, maximum, normal, Taper.Linear, description));

    private static AlbumField Whole(string id, string name, ParameterUnit unit, double minimum, double maximum, double normal, string description) =>
        new(new ParameterSpec(id, name, unit, minimum, maximum, normal, Taper.Stepped, description));
}
