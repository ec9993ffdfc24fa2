namespace LiveStems.Analysis.Spectra;

/// <summary>Which part of stereo sound a spectrum is of.</summary>
public enum SpectrumChannel
{
    /// <summary>Left and right: the mean of their powers.</summary>
    Both,

    /// <summary>The left side.</summary>
    Left,

    /// <summary>The right side.</summary>
    Right,

    /// <summary>The middle, (L + R) / 2.</summary>
    Mid,

    /// <summary>The difference, (L − R) / 2.</summary>
    Side,
}
