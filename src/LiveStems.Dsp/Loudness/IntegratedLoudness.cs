namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Integrated loudness of a stereo programme that is asked for at its end only (ITU-R BS.1770-5 Annex 1): the same K-weighting
/// and gates as <see cref="LoudnessMeter"/>, kept as one number for every tenth of a second instead of tables, so that many
/// can run at once.
/// </summary>
/// <param name="sampleRate">Frames per second, 8 000 to 384 000.</param>
public sealed class IntegratedLoudness(int sampleRate)
{
    private const int StepsPerTenth = 10;
    private const int TenthsPerBlock = 4;

    private static readonly double AbsoluteGate = LoudnessScale.ToMeanSquare(LoudnessScale.AbsoluteGateLufs);
    private static readonly double RelativeGate = Decibels.ToPower(-10);

    private readonly KWeightedPair channels = new(new KWeighting(sampleRate), 1, 1);
    private readonly StepClock clock = new(sampleRate);
    private readonly List<(double Energy, int Frames)> tenths = [];
    private double energy;
    private int steps;

    /// <summary>Gated loudness of everything so far in LUFS; −∞ when no block of 400 ms passes the gates.</summary>
    public double Lufs
    {
        get
        {
            double gate = Math.Max(AbsoluteGate, RelativeGate * MeanAbove(AbsoluteGate));
            return LoudnessScale.ToLufs(MeanAbove(gate));
        }
    }

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
                EndStep();
            }

            left = left[frames..];
            right = right[frames..];
        }
    }

    private void EndStep()
    {
        energy += channels.TakeEnergy();
        steps++;
        if (steps == StepsPerTenth)
        {
            tenths.Add((energy, clock.FramesInLast(StepsPerTenth)));
            energy = 0;
            steps = 0;
        }
    }

    private double MeanAbove(double gate)
    {
        double sum = 0;
        int blocks = 0;
        for (int i = 0; i + TenthsPerBlock <= tenths.Count; i++)
        {
            double block = (tenths[i].Energy + tenths[i + 1].Energy + tenths[i + 2].Energy + tenths[i + 3].Energy)
                / (tenths[i].Frames + tenths[i + 1].Frames + tenths[i + 2].Frames + tenths[i + 3].Frames);
            if (block > gate)
            {
                sum += block;
                blocks++;
            }
        }

        return blocks == 0 ? 0 : sum / blocks;
    }
}
