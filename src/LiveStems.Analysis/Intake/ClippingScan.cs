namespace LiveStems.Analysis.Intake;

/// <summary>
/// Finds clipped runs in one channel: three or more equal samples in a row at full scale; and counts such runs at the
/// channel's own largest value, which tell of clipping that was turned down afterwards.
/// </summary>
internal sealed class ClippingScan(int channel, EventList found)
{
    private const int ShortestRun = 3;

    // The largest positive value of 16 bits.
    private const float FullScale = 32_767f / 32_768f;

    private float last;
    private float largest;
    private long run;

    /// <summary>Runs of equal samples at the largest value so far.</summary>
    public long FlatTops { get; private set; }

    /// <summary>Adds samples of the channel.</summary>
    public void Add(ReadOnlySpan<float> samples, long firstFrame)
    {
        for (int n = 0; n < samples.Length; n++)
        {
            float sample = samples[n];
            if (sample == last && sample != 0)
            {
                run++;
                if (run == ShortestRun && Math.Abs(sample) >= largest)
                {
                    FlatTops++;
                }
            }
            else
            {
                EndRun(firstFrame + n);
                last = sample;
                run = 1;
                float magnitude = Math.Abs(sample);
                if (magnitude > largest)
                {
                    largest = magnitude;
                    FlatTops = 0;
                }
            }
        }
    }

    /// <summary>Takes in a run that lasts to the end.</summary>
    public void Finish(long frames) => EndRun(frames);

    private void EndRun(long frame)
    {
        if (run >= ShortestRun && Math.Abs(last) >= FullScale)
        {
            found.Add(new SoundEvent(frame - run, run, channel, run));
        }

        run = 0;
    }
}
