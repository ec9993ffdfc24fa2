namespace LiveStems.Analysis.Caching;

/// <summary>The sum of kept renders, each at its level, added up in their order.</summary>
internal sealed class SoundSum : IDisposable
{
    private readonly StoredSound[] sounds;
    private readonly float[] levels;

    /// <param name="paths">The renders, at least one.</param>
    /// <param name="mostFrames">The longest stretch that is read.</param>
    /// <param name="levels">Their levels as factors; 1 for all when left out.</param>
    public SoundSum(IReadOnlyList<string> paths, int mostFrames, float[]? levels = null)
    {
        sounds = [.. paths.Select(path => new StoredSound(path, mostFrames))];
        this.levels = levels ?? [.. sounds.Select(_ => 1f)];
        Left = new float[mostFrames];
        Right = new float[mostFrames];
        Frames = sounds.Max(sound => sound.Frames);
    }

    /// <summary>Frames of the longest.</summary>
    public long Frames { get; }

    /// <summary>The left side of the last stretch.</summary>
    public float[] Left { get; }

    /// <summary>The right side of the last stretch.</summary>
    public float[] Right { get; }

    /// <summary>Reads and adds the next frames.</summary>
    public void Read(int frames)
    {
        Left.AsSpan(0, frames).Clear();
        Right.AsSpan(0, frames).Clear();
        for (int s = 0; s < sounds.Length; s++)
        {
            sounds[s].Read(frames);
            Add(Left.AsSpan(0, frames), sounds[s].Left, levels[s]);
            Add(Right.AsSpan(0, frames), sounds[s].Right, levels[s]);
        }
    }

    /// <summary>Closes the files.</summary>
    public void Dispose()
    {
        foreach (StoredSound sound in sounds)
        {
            sound.Dispose();
        }
    }

    private static void Add(Span<float> to, float[] sound, float level)
    {
        for (int i = 0; i < to.Length; i++)
        {
            to[i] += level * sound[i];
        }
    }
}
