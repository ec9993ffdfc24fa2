namespace LiveStems.Dsp.Loudness;

/// <summary>
/// True peak of stereo sound as a reference, for judging limiters and deliveries: sixteen times oversampling by a
/// Kaiser-windowed sinc of 96 taps a phase in double precision, and a parabola over the top of each crest.
/// </summary>
/// <remarks>
/// <para>
/// Within 0.001 dB for steady tones up to 0.46 of the sample rate. (A grid of sixteen alone reads up to 0.034 dB low at
/// 0.45, the four times grid of <see cref="TruePeakMeter"/> 0.55 dB: ITU-R BS.1770-5 Annex 2, Attachment 1.) Its design
/// shares nothing with that meter, which is a hundred times as fast.
/// </para>
/// <para>
/// All memory comes with construction; nothing allocates or waits afterwards. Readings depend on the frames added, not on
/// the blocks they came in, and hold all but the last 48 frames until <see cref="Finish"/>.
/// </para>
/// </remarks>
public sealed class PrecisePeakMeter
{
    private readonly PrecisePeakChannel left;
    private readonly PrecisePeakChannel right;

    /// <summary>Prepares the meter, as if from silence; any sample rate.</summary>
    public PrecisePeakMeter()
    {
        KaiserInterpolator interpolator = new();
        left = new PrecisePeakChannel(interpolator);
        right = new PrecisePeakChannel(interpolator);
    }

    /// <summary>Largest true peak of both channels in dBTP; −∞ for silence.</summary>
    public double TruePeakDbtp => Math.Max(LeftTruePeakDbtp, RightTruePeakDbtp);

    /// <summary>True peak of the left channel in dBTP.</summary>
    public double LeftTruePeakDbtp => Decibels.FromAmplitude(left.Peak);

    /// <summary>True peak of the right channel in dBTP.</summary>
    public double RightTruePeakDbtp => Decibels.FromAmplitude(right.Peak);

    /// <summary>Adds any number of frames.</summary>
    /// <param name="left">Left samples, full scale ±1.</param>
    /// <param name="right">Right samples, as many.</param>
    /// <exception cref="ArgumentException">The channels differ in length.</exception>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        StereoChannels.ThrowIfLengthsDiffer(left, right);
        this.left.Add(left);
        this.right.Add(right);
    }

    /// <summary>Lets silence follow, so that the readings hold everything added so far.</summary>
    public void Finish()
    {
        ReadOnlySpan<float> silence = stackalloc float[KaiserInterpolator.Taps];
        Add(silence, silence);
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        left.Reset();
        right.Reset();
    }
}
