namespace LiveStems.Dsp.Resampling;

/// <summary>The inner part of a <see cref="StreamingResampler"/>: sound in, sound out, without beginning and end.</summary>
internal abstract class ResamplerCore
{
    /// <summary>The input frame after the last taken.</summary>
    public abstract long End { get; }

    /// <summary>Begins at an output frame, with silence before input frame 0.</summary>
    public abstract void Restart(long outputFrame);

    /// <summary>Gives as many frames as can be had, up to the length of the spans; 0 when more input is needed.</summary>
    public abstract int Take(Span<float> left, Span<float> right);

    /// <summary>Takes input and returns how many frames there was room for, at least one.</summary>
    public abstract int Append(ReadOnlySpan<float> left, ReadOnlySpan<float> right);

    /// <summary>Takes some silence.</summary>
    public abstract void AppendSilence();
}
