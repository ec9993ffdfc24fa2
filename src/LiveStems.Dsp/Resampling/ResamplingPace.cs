namespace LiveStems.Dsp.Resampling;

/// <summary>When a <see cref="StreamingResampler"/> does its work.</summary>
public enum ResamplingPace
{
    /// <summary>In blocks of some thousand frames, as fast as can be: for files.</summary>
    Blocks,

    /// <summary>The same for every few frames, and with as little input ahead of the output as the filter needs: for devices.</summary>
    Even,
}
