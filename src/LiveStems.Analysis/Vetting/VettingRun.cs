using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>A processor under examination: made anew for every check, so that none spoils the next.</summary>
internal sealed class VettingRun
{
    public const int SampleRate = 48_000;

    private readonly Processor processor;
    private readonly int longest;

    /// <param name="make">Makes the processor.</param>
    /// <param name="longest">Longest block it is prepared for, in frames.</param>
    /// <param name="set">Sets parameters before it is prepared; may be null.</param>
    /// <param name="sampleRate">Rate in Hz.</param>
    public VettingRun(Func<Processor> make, int longest, Action<Processor>? set = null, int sampleRate = SampleRate)
    {
        processor = make();
        this.longest = longest;
        set?.Invoke(processor);
        processor.Prepare(new ProcessingFormat(sampleRate, longest));
    }

    public Processor Processor => processor;

    /// <summary>Processes copies of a sound in blocks of a length, and gives what comes out.</summary>
    public (float[] Left, float[] Right) Run(float[] left, float[] right, int block)
    {
        float[] outLeft = [.. left];
        float[] outRight = [.. right];
        int step = Math.Min(block, longest);
        for (int done = 0; done < left.Length; done += step)
        {
            int frames = Math.Min(step, left.Length - done);
            processor.Process(new StereoBlock(outLeft.AsSpan(done, frames), outRight.AsSpan(done, frames)));
            _ = processor.GainReductionDb;
        }

        return (outLeft, outRight);
    }

    /// <summary>White noise between −level and +level, both sides different; the same for the same seed.</summary>
    public static (float[] Left, float[] Right) Noise(int frames, int seed, double level = 0.25)
    {
        Random random = new(seed);
        float[] Side() => [.. Enumerable.Range(0, frames).Select(_ => (float)(level * (2 * random.NextDouble() - 1)))];
        return (Side(), Side());
    }

    public static bool AreSame((float[] Left, float[] Right) one, (float[] Left, float[] Right) other) =>
        one.Left.AsSpan().SequenceEqual(other.Left) && one.Right.AsSpan().SequenceEqual(other.Right);

    public static bool IsFinite((float[] Left, float[] Right) sound) => sound.Left.All(float.IsFinite) && sound.Right.All(float.IsFinite);
}
