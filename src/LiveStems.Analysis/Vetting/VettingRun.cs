using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>A processor under examination: made anew for every check, so that none spoils the next.</summary>
internal sealed class VettingRun
{
    public const int SampleRate = 48_000;

    // The key comes and goes, so that what follows it has something to follow.
    private const int KeySounds = 3000;
    private const int KeyTurn = 4000;

    private readonly Processor processor;
    private readonly int longest;
    private readonly bool hasKey;

    /// <param name="make">Makes the processor.</param>
    /// <param name="longest">Longest block it is prepared for, in frames.</param>
    /// <param name="situation">In what it is tried.</param>
    /// <param name="set">Sets more parameters before it is prepared; may be null.</param>
    /// <param name="sampleRate">Rate in Hz.</param>
    public VettingRun(Func<Processor> make, int longest, VettingSituation situation, Action<Processor>? set = null, int sampleRate = SampleRate)
    {
        processor = make();
        this.longest = longest;
        hasKey = situation.HasKey;
        situation.Set(processor);
        set?.Invoke(processor);
        processor.Prepare(new ProcessingFormat(sampleRate, longest));
    }

    public Processor Processor => processor;

    /// <summary>Processes copies of a sound in blocks of a length, and gives what comes out.</summary>
    /// <param name="left">Left samples.</param>
    /// <param name="right">Right samples, as many.</param>
    /// <param name="block">Frames of a block.</param>
    /// <param name="key">What it hears on both sides where it hears another sound; null for noise that comes and goes.</param>
    /// <param name="moves">Sets parameters while it runs; null to leave them alone.</param>
    public (float[] Left, float[] Right) Run(float[] left, float[] right, int block, float[]? key = null, VettingMoves? moves = null)
    {
        float[] outLeft = [.. left];
        float[] outRight = [.. right];
        float[] heard = hasKey ? key ?? Key(left.Length) : [];
        int step = Math.Min(block, longest);
        for (int done = 0; done < left.Length;)
        {
            // Values change before the same frame in blocks of every length.
            moves?.At(done, processor);
            int frames = Math.Min(Math.Min(step, left.Length - done), moves is null ? step : VettingMoves.FramesToNext(done));
            Process(outLeft.AsSpan(done, frames), outRight.AsSpan(done, frames), hasKey ? heard.AsSpan(done, frames) : default);
            _ = processor.GainReductionDb;
            done += frames;
        }

        return (outLeft, outRight);
    }

    /// <summary>Processes one block in place.</summary>
    /// <param name="left">Left samples.</param>
    /// <param name="right">Right samples.</param>
    /// <param name="key">What it hears on both sides; not looked at where it hears itself.</param>
    public void Process(Span<float> left, Span<float> right, ReadOnlySpan<float> key) =>
        processor.Process(hasKey ? new StereoBlock(left, right, key, key) : new StereoBlock(left, right));

    /// <summary>Noise of −12 dBFS that comes and goes, the same for every call.</summary>
    public static float[] Key(int frames)
    {
        float[] key = Noise(frames, 8).Left;
        for (int i = 0; i < frames; i++)
        {
            key[i] = i % KeyTurn < KeySounds ? key[i] : 0;
        }

        return key;
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
