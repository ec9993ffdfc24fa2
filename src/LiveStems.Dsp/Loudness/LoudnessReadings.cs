namespace LiveStems.Dsp.Loudness;

/// <summary>
/// From the weighted energy of every 10 ms, whatever channels it came from, to all readings of a loudness meter.
/// </summary>
/// <param name="clock">Steps of 10 ms.</param>
/// <param name="isForAudioThread">Whether the memory must be there before it is needed.</param>
internal sealed class LoudnessReadings(StepClock clock, bool isForAudioThread)
{
    // Gating blocks overlap by 75 % of 400 ms; the loudness range takes a value as often.
    private const int StepsPerHop = 10;

    private readonly LoudnessWindows windows = new();
    private readonly GatedLoudness gated = new(isForAudioThread);
    private readonly LoudnessRange range = new(isForAudioThread);
    private double momentary;
    private double shortTerm;
    private double maximumMomentary;
    private double maximumShortTerm;
    private int stepsToBlock = LoudnessWindows.MomentarySteps;
    private int stepsToRangeValue = LoudnessWindows.ShortTermSteps;

    public double MomentaryLufs => LoudnessScale.ToLufs(momentary);

    public double ShortTermLufs => LoudnessScale.ToLufs(shortTerm);

    public double MaximumMomentaryLufs => LoudnessScale.ToLufs(maximumMomentary);

    public double MaximumShortTermLufs => LoudnessScale.ToLufs(maximumShortTerm);

    public double IntegratedLufs => gated.Lufs;

    public double LoudnessRangeLu => range.Lu;

    /// <summary>Takes the energy of the step that the clock has just completed.</summary>
    public void AddStep(double weightedEnergy)
    {
        windows.Add(weightedEnergy);
        momentary = windows.MomentaryEnergy / clock.FramesInLast(LoudnessWindows.MomentarySteps);
        shortTerm = windows.ShortTermEnergy / clock.FramesInLast(LoudnessWindows.ShortTermSteps);
        maximumMomentary = Math.Max(maximumMomentary, momentary);
        maximumShortTerm = Math.Max(maximumShortTerm, shortTerm);

        if (--stepsToBlock == 0)
        {
            stepsToBlock = StepsPerHop;
            gated.Add(momentary);
        }

        AddToRange(shortTerm);
    }

    /// <summary>
    /// Takes the energy of a step after the end of the programme: only the loudness range hears it (Tech 3342).
    /// </summary>
    public void AddStepAfterTheEnd(double weightedEnergy)
    {
        windows.Add(weightedEnergy);
        AddToRange(windows.ShortTermEnergy / clock.FramesInLast(LoudnessWindows.ShortTermSteps));
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        windows.Reset();
        gated.Reset();
        range.Reset();
        momentary = shortTerm = maximumMomentary = maximumShortTerm = 0;
        stepsToBlock = LoudnessWindows.MomentarySteps;
        stepsToRangeValue = LoudnessWindows.ShortTermSteps;
    }

    private void AddToRange(double meanSquare)
    {
        if (--stepsToRangeValue == 0)
        {
            stepsToRangeValue = StepsPerHop;
            range.Add(meanSquare);
        }
    }
}
