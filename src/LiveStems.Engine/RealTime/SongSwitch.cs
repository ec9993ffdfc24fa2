namespace LiveStems.Engine.RealTime;

/// <summary>
/// Plays one song plan, and goes over to another without a step: the new plan first runs along unheard until its
/// processors have settled, then both are cross-faded.
/// </summary>
internal sealed class SongSwitch(int maximumFrames, int fadeFrames, int settleFrames)
{
    private readonly int fadeFrames = fadeFrames;
    private PlayingSong? offered;
    private PlayingSong? retired;
    private PlayingSong? current;
    private PlayingSong? next;
    private int nextFrames;
    private readonly StereoBuffer mixed = new(maximumFrames);
    private StereoBuffer last = new(maximumFrames);

    /// <summary>Control thread: true when a new song can be offered: the last one has arrived and its forerunner is taken back.</summary>
    public bool IsReady => Volatile.Read(ref offered) is null && Volatile.Read(ref next) is null && Volatile.Read(ref retired) is null;

    /// <summary>Audio thread: the master of the block that <see cref="Run"/> gave last, whatever is heard of a comparison.</summary>
    public StereoBuffer Master => current?.Plan.InOutput is null ? last : current.Plan.Output;

    /// <summary>Control thread: offers a song; only while <see cref="IsReady"/>.</summary>
    public void Offer(PlayingSong song) => Volatile.Write(ref offered, song);

    /// <summary>Control thread: takes back a song that is no longer played.</summary>
    public PlayingSong? TakeRetired() => Interlocked.Exchange(ref retired, null);

    /// <summary>Audio thread: the next frames of whatever plays.</summary>
    public StereoBuffer Run(int frames) => last = RunNext(frames);

    private StereoBuffer RunNext(int frames)
    {
        if (next is null && Volatile.Read(ref offered) is { } song)
        {
            // The first song has nothing to fade from but silence. In this order IsReady never holds in between.
            nextFrames = 0;
            Volatile.Write(ref next, song);
            Volatile.Write(ref offered, null);
        }

        if (next is null)
        {
            return RunCurrent(frames);
        }

        return RunBoth(next, frames);
    }

    private StereoBuffer RunCurrent(int frames)
    {
        if (current is null)
        {
            mixed.Left.AsSpan(0, frames).Clear();
            mixed.Right.AsSpan(0, frames).Clear();
            return mixed;
        }

        current.TakeStems(frames);
        return current.Run(frames);
    }

    private StereoBuffer RunBoth(PlayingSong arriving, int frames)
    {
        StereoBuffer leaving = RunCurrent(frames);
        if (current is null || !arriving.SharesStemsWith(current))
        {
            arriving.TakeStems(frames);
        }

        StereoBuffer heard = arriving.Run(frames);
        int settle = arriving.Plan.LatencyFrames + settleFrames;
        for (int i = 0; i < frames; i++)
        {
            float share = Math.Clamp((float)(nextFrames + i + 1 - settle) / fadeFrames, 0, 1);
            mixed.Left[i] = leaving.Left[i] + share * (heard.Left[i] - leaving.Left[i]);
            mixed.Right[i] = leaving.Right[i] + share * (heard.Right[i] - leaving.Right[i]);
        }

        nextFrames += frames;
        if (nextFrames >= settle + fadeFrames && Volatile.Read(ref retired) is null)
        {
            Volatile.Write(ref retired, current);
            current = arriving;
            Volatile.Write(ref next, null);
        }

        return mixed;
    }
}
