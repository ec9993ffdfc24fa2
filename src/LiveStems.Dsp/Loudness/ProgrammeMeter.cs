namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Measures a whole stereo programme: the file meter of EBU Tech 3341 and 3342, loudness and true peak together.
/// </summary>
/// <remarks>Add every frame, then <see cref="Finish"/>; <see cref="Reset"/> makes the meter ready for the next.</remarks>
public sealed class ProgrammeMeter
{
    // Both meters read a stretch while it is in the first-level cache.
    private const int FramesAtOnce = 1024;

    private readonly LoudnessMeter loudness;
    private readonly TruePeakMeter peak;
    private LoudnessReport? report;

    /// <summary>Prepares the meter.</summary>
    /// <param name="sampleRate">Frames per second, 8 000 to 384 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">The sample rate is outside its range.</exception>
    public ProgrammeMeter(int sampleRate)
    {
        loudness = new LoudnessMeter(sampleRate, isForAudioThread: false);
        peak = new TruePeakMeter();
    }

    /// <summary>Adds any number of frames.</summary>
    /// <param name="left">Left samples, full scale ±1.</param>
    /// <param name="right">Right samples, as many.</param>
    /// <exception cref="ArgumentException">The channels differ in length.</exception>
    /// <exception cref="InvalidOperationException">The programme is finished.</exception>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        StereoChannels.ThrowIfLengthsDiffer(left, right);
        if (report is not null)
        {
            throw new InvalidOperationException("The programme is finished: reset the meter before the next one.");
        }

        for (int start = 0; start < left.Length; start += FramesAtOnce)
        {
            int frames = Math.Min(FramesAtOnce, left.Length - start);
            loudness.Add(left.Slice(start, frames), right.Slice(start, frames));
            peak.Add(left.Slice(start, frames), right.Slice(start, frames));
        }
    }

    /// <summary>
    /// The report. 1.5 s of silence are appended for the loudness range alone (Tech 3342), and the last true peaks are
    /// taken in.
    /// </summary>
    public LoudnessReport Finish()
    {
        if (report is null)
        {
            loudness.AppendSilenceForRange();
            peak.Finish();
            report = new LoudnessReport(
                loudness.IntegratedLufs,
                loudness.LoudnessRangeLu,
                loudness.MaximumMomentaryLufs,
                loudness.MaximumShortTermLufs,
                peak.TruePeakDbtp,
                peak.SamplePeakDbfs);
        }

        return report;
    }

    /// <summary>Ready for another programme.</summary>
    public void Reset()
    {
        loudness.Reset();
        peak.Reset();
        report = null;
    }
}
