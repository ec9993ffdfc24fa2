namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Cuts time into steps of 10 ms at any whole sample rate: step k begins at the frame nearest to k/100 s, so a window of
/// any number of steps is right to the nearest frame and nothing drifts.
/// </summary>
internal sealed class StepClock(int sampleRate)
{
    /// <summary>Steps a second.</summary>
    public const int StepsPerSecond = 100;

    private int step;

    /// <summary>Frames until the present step is complete.</summary>
    public int FramesLeft { get; private set; } = Boundary(1, sampleRate);

    /// <summary>Frames in a time, to the nearest.</summary>
    public int FramesIn(double seconds) => (int)Math.Round(seconds * sampleRate);

    /// <summary>Passes time within the present step; true when that completes it.</summary>
    public bool Advance(int frames)
    {
        FramesLeft -= frames;
        if (FramesLeft > 0)
        {
            return false;
        }

        step = (step + 1) % StepsPerSecond;
        FramesLeft = FramesBetween(step, step + 1);
        return true;
    }

    /// <summary>Frames in the last <paramref name="steps"/> completed steps, at most 3 s of them.</summary>
    public int FramesInLast(int steps) => FramesBetween(step - steps, step);

    /// <summary>Back to the start of time.</summary>
    public void Reset()
    {
        step = 0;
        FramesLeft = Boundary(1, sampleRate);
    }

    private int FramesBetween(int first, int last)
    {
        // The pattern of boundaries repeats every second; three of them keep the numbers positive.
        const int Shift = 3 * StepsPerSecond;
        return Boundary(last + Shift, sampleRate) - Boundary(first + Shift, sampleRate);
    }

    private static int Boundary(int step, int sampleRate) =>
        (int)(((long)step * sampleRate + StepsPerSecond / 2) / StepsPerSecond);
}
