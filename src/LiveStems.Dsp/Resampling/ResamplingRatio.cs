namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Exact positions between two sample rates. Output frame m sounds at input time m·<see cref="Down"/>/<see cref="Up"/>
/// input frames; the two are the rates without their common divisor, so no rounding ever accumulates.
/// </summary>
internal readonly struct ResamplingRatio
{
    private readonly int wholeStep;
    private readonly int phaseStep;

    public ResamplingRatio(int fromRate, int toRate)
    {
        int divisor = (int)System.Numerics.BigInteger.GreatestCommonDivisor(fromRate, toRate);
        Up = toRate / divisor;
        Down = fromRate / divisor;
        (wholeStep, phaseStep) = Math.DivRem(Down, Up);
    }

    /// <summary>Output frames per period of phases; the number of distinct phases.</summary>
    public int Up { get; }

    /// <summary>Input frames per period of phases.</summary>
    public int Down { get; }

    /// <summary>Input frames per output frame where that is above 1, else 1: how much the filter is stretched.</summary>
    public double Stretch => Math.Max(1, (double)Down / Up);

    /// <summary>The last input frame at or before an output frame, and how far after it the output frame sounds, in 1/<see cref="Up"/> input frames.</summary>
    public (long InputFrame, int Phase) Locate(long outputFrame)
    {
        (Int128 frame, Int128 phase) = Int128.DivRem((Int128)outputFrame * Down, Up);
        return ((long)frame, (int)phase);
    }

    /// <summary>Moves a phase to the next output frame and returns by how many input frames that one is further on.</summary>
    public int Step(ref int phase)
    {
        phase += phaseStep;
        if (phase < Up)
        {
            return wholeStep;
        }

        phase -= Up;
        return wholeStep + 1;
    }

    /// <summary>Output frames that begin before the end of so many input frames: ⌈frames·Up/Down⌉.</summary>
    public long OutputFrames(long inputFrames) => (long)(((Int128)inputFrames * Up + (Down - 1)) / Down);
}
