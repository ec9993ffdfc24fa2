namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Loudness of stereo sound: ITU-R BS.1770-5 Annex 1 (K-weighting, gating), the EBU Mode of EBU Tech 3341 (momentary,
/// short-term, integrated, their maxima) and the loudness range of EBU Tech 3342.
/// </summary>
/// <remarks>
/// <para>
/// All memory (1.7 MB, however long the sound) comes with construction; <see cref="Add"/>, <see cref="Reset"/> and the
/// readings neither allocate nor wait, so the meter may run on the audio thread; one thread at a time. Readings depend
/// on the frames added, not on the blocks they came in.
/// </para>
/// <para>
/// Windows move every 10 ms; gating blocks and the values of the loudness range follow every 100 ms. Integrated
/// loudness and loudness range are within 0.001 LU of those that keep and sort every block, with the relative gate at
/// most 0.001 LU off. A step of 10 ms whose samples are not all finite counts as silence.
/// </para>
/// </remarks>
public sealed class LoudnessMeter
{
    // BS.1770-5 Table 3.
    private const double FrontWeight = 1;

    private readonly KWeightedPair channels;
    private readonly StepClock clock;
    private readonly LoudnessReadings readings;

    /// <summary>Prepares the meter, as if from silence.</summary>
    /// <param name="sampleRate">Frames per second, 8 000 to 384 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">The sample rate is outside its range.</exception>
    public LoudnessMeter(int sampleRate)
        : this(sampleRate, isForAudioThread: true)
    {
    }

    /// <summary>Does the same; off the audio thread, memory may come when it is first needed, and most of it never is.</summary>
    internal LoudnessMeter(int sampleRate, bool isForAudioThread)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, 8_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRate, 384_000);
        channels = new KWeightedPair(new KWeighting(sampleRate), FrontWeight, FrontWeight);
        clock = new StepClock(sampleRate);
        readings = new LoudnessReadings(clock, isForAudioThread);
    }

    /// <summary>Loudness of the last 0.4 s in LUFS; −∞ for silence.</summary>
    public double MomentaryLufs => readings.MomentaryLufs;

    /// <summary>Loudness of the last 3 s in LUFS; −∞ for silence.</summary>
    public double ShortTermLufs => readings.ShortTermLufs;

    /// <summary>Highest <see cref="MomentaryLufs"/> so far.</summary>
    public double MaximumMomentaryLufs => readings.MaximumMomentaryLufs;

    /// <summary>Highest <see cref="ShortTermLufs"/> so far.</summary>
    public double MaximumShortTermLufs => readings.MaximumShortTermLufs;

    /// <summary>Gated loudness of everything so far in LUFS; −∞ when no block of 400 ms passes the gates.</summary>
    public double IntegratedLufs => readings.IntegratedLufs;

    /// <summary>
    /// Loudness range of everything so far in LU; 0 when no window of 3 s passes the gates. Not settled in the first
    /// 60 s (Tech 3341).
    /// </summary>
    public double LoudnessRangeLu => readings.LoudnessRangeLu;

    /// <summary>Adds any number of frames.</summary>
    /// <param name="left">Left samples, full scale ±1.</param>
    /// <param name="right">Right samples, as many.</param>
    /// <exception cref="ArgumentException">The channels differ in length.</exception>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        StereoChannels.ThrowIfLengthsDiffer(left, right);
        while (left.Length > 0)
        {
            int frames = Math.Min(left.Length, clock.FramesLeft);
            channels.Add(left[..frames], right[..frames]);
            if (clock.Advance(frames))
            {
                readings.AddStep(channels.TakeEnergy());
            }

            left = left[frames..];
            right = right[frames..];
        }
    }

    /// <summary>
    /// Lets the loudness range hear 1.5 s of silence after the end of a programme (Tech 3342 section 4, file meters); no
    /// other reading changes. Only <see cref="Reset"/> may follow.
    /// </summary>
    internal void AppendSilenceForRange()
    {
        ReadOnlySpan<float> silence = stackalloc float[256];
        int framesLeft = clock.FramesIn(1.5);
        while (framesLeft > 0)
        {
            int frames = Math.Min(Math.Min(framesLeft, silence.Length), clock.FramesLeft);
            channels.Add(silence[..frames], silence[..frames]);
            if (clock.Advance(frames))
            {
                readings.AddStepAfterTheEnd(channels.TakeEnergy());
            }

            framesLeft -= frames;
        }
    }

    /// <summary>As if from silence: every reading starts anew.</summary>
    public void Reset()
    {
        channels.Reset();
        clock.Reset();
        readings.Reset();
    }
}
