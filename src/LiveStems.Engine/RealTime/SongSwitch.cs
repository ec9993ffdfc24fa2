using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Plays one song plan, and goes over to another without a step: by a cross-fade, once the new plan has run along unheard
/// until its processors have settled; to the start of another song by a fade of the present one, behind which the first
/// frame of the other is heard; or at the end of the song, where the first frame of the next follows the last frame
/// of the longest stem and what rings on is heard under it; or as both stand on the album, behind a gap or cross-faded.
/// </summary>
internal sealed class SongSwitch(int maximumFrames, int fadeFrames, int settleFrames, int longestTailFrames)
{
    // −100 dBFS: what rings on below is let go.
    private const float Inaudible = 1e-5f;

    // What rings on when something else is asked for fades in so many short fades.
    private const int FadesOfHurriedTail = 20;

    private readonly int fadeFrames = fadeFrames;
    private readonly StereoBuffer mixed = new(maximumFrames);
    private PlayingSong? offered;
    private PlayingSong? retired;
    private PlayingSong? current;
    private PlayingSong? next;
    private PlayingSong? following;
    private PlayingSong? joining;
    private bool nextBegins;
    private int nextFrames;
    private volatile bool isTailHurried;
    private int hurriedFrames;
    private StereoBuffer last = new(maximumFrames);

    /// <summary>Control thread: true when a new song can be offered: the last one has arrived and its forerunner is taken back.</summary>
    public bool IsReady =>
        Volatile.Read(ref offered) is null && Volatile.Read(ref next) is null && Volatile.Read(ref joining) is null && Volatile.Read(ref retired) is null;

    /// <summary>Control thread: true while a song waits for the end of the present one.</summary>
    public bool IsWaiting => Volatile.Read(ref following) is not null;

    /// <summary>Audio thread: the master of the block that <see cref="Run"/> gave last, whatever is heard of a comparison.</summary>
    public StereoBuffer Master => current?.Plan.InOutput is null ? last : current.Plan.Output;

    /// <summary>Control thread: offers a song; only while <see cref="IsReady"/>.</summary>
    public void Offer(PlayingSong song) => Volatile.Write(ref offered, song);

    /// <summary>Control thread: the song to play when the present one ends; its head is open and stands at its start.</summary>
    public void Follow(PlayingSong song) => Volatile.Write(ref following, song);

    /// <summary>Control thread: takes back the song that waits; null when it plays already.</summary>
    public PlayingSong? Withdraw() => Interlocked.Exchange(ref following, null);

    /// <summary>Control thread: takes back a song that is no longer played.</summary>
    public PlayingSong? TakeRetired() => Interlocked.Exchange(ref retired, null);

    /// <summary>Control thread: something waits until what rings on of the song before is over; it fades sooner.</summary>
    public void HurryTail() => isTailHurried = true;

    /// <summary>Audio thread: the next frames of whatever plays.</summary>
    public StereoBuffer Run(int frames) => last = RunNext(frames);

    private StereoBuffer RunNext(int frames)
    {
        if (next is null && joining is null && Volatile.Read(ref offered) is { } song)
        {
            // In this order IsReady never holds in between.
            nextFrames = 0;
            nextBegins = song.Head.IsAtStart && (current is null || !song.SharesStemsWith(current));
            Volatile.Write(ref next, song);
            Volatile.Write(ref offered, null);
        }

        if (next is not null)
        {
            return RunBoth(next, frames);
        }

        StereoBuffer heard = RunCurrent(frames);
        int from = joining is null ? StartOfNext(frames) : 0;
        return joining is null ? heard : Join(joining, heard, from, frames);
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
        int settle = arriving.Plan.LatencyFrames + settleFrames;
        int from = 0;
        if (nextBegins)
        {
            // Its first frame comes out when the other song has faded, neither earlier nor later.
            settle = Math.Max(0, arriving.Plan.LatencyFrames - fadeFrames);
            from = Math.Clamp(fadeFrames - arriving.Plan.LatencyFrames - nextFrames, 0, frames);
        }

        int own = frames - from;
        if (own > 0 && (current is null || !arriving.SharesStemsWith(current)))
        {
            arriving.TakeStems(own);
        }

        ReadOnlySpan<float> heardLeft = default;
        ReadOnlySpan<float> heardRight = default;
        if (own > 0)
        {
            StereoBuffer heard = arriving.Run(own);
            heardLeft = heard.Left.AsSpan(0, own);
            heardRight = heard.Right.AsSpan(0, own);
        }

        for (int i = 0; i < frames; i++)
        {
            float share = FadeCurve.Smooth((float)(nextFrames + i + 1 - settle) / fadeFrames);
            float left = i < from ? 0 : heardLeft[i - from];
            float right = i < from ? 0 : heardRight[i - from];
            mixed.Left[i] = leaving.Left[i] + share * (left - leaving.Left[i]);
            mixed.Right[i] = leaving.Right[i] + share * (right - leaving.Right[i]);
        }

        nextFrames += frames;
        if (nextFrames >= settle + fadeFrames)
        {
            Succeed(arriving, ref next);
        }

        return mixed;
    }

    // Where in the block just run the next song must start so that, through its own latency, its first frame is heard right
    // after the last one of this song.
    private int StartOfNext(int frames)
    {
        if (current is null || current.Head.IsLooping || !current.Head.ShouldPlay || Volatile.Read(ref following) is not { } song)
        {
            return 0;
        }

        long over = current.Head.Position - (current.HeardEnd - song.LeadFrames - song.Plan.LatencyFrames);
        if (over > 0)
        {
            // In this order it is at every moment either waiting or joining, unless it has been taken back.
            isTailHurried = false;
            hurriedFrames = 0;
            Volatile.Write(ref joining, song);
            if (!ReferenceEquals(Interlocked.CompareExchange(ref following, null, song), song))
            {
                Volatile.Write(ref joining, null);
            }
        }

        return (int)Math.Max(0, frames - over);
    }

    private StereoBuffer Join(PlayingSong arriving, StereoBuffer leaving, int from, int frames)
    {
        Span<float> left = mixed.Left.AsSpan(0, frames);
        Span<float> right = mixed.Right.AsSpan(0, frames);
        leaving.Left.AsSpan(0, frames).CopyTo(left);
        leaving.Right.AsSpan(0, frames).CopyTo(right);
        long tail = current!.Head.Position - current.HeardEnd;
        bool isLast = tail >= longestTailFrames;
        if (tail + fadeFrames > longestTailFrames)
        {
            FadeTail(left, right, (int)(longestTailFrames - (tail - frames)), fadeFrames);
        }

        if (isTailHurried && tail >= 0)
        {
            FadeTail(left, right, HurriedTailFrames - hurriedFrames, HurriedTailFrames);
            hurriedFrames += frames;
            isLast |= hurriedFrames >= HurriedTailFrames;
        }

        bool isOver = isLast || (tail >= 0 || !current.Head.ShouldPlay) && Math.Max(Planar.Peak(left), Planar.Peak(right)) < Inaudible;
        int own = frames - from;
        arriving.TakeStems(own);
        StereoBuffer begun = arriving.Run(own);
        if (arriving.Place is { Crossed: > 0 } place)
        {
            Cross(place, begun, left[from..], right[from..], arriving.Head.Position - own - arriving.Plan.LatencyFrames - place.Start);
        }

        Planar.AddScaled(begun.Left.AsSpan(0, own), 1, left[from..]);
        Planar.AddScaled(begun.Right.AsSpan(0, own), 1, right[from..]);
        if (isOver)
        {
            Succeed(arriving, ref joining);
        }

        return mixed;
    }

    private static void Cross(SongOnAlbum place, StereoBuffer arriving, Span<float> left, Span<float> right, long first)
    {
        for (int i = 0; i < left.Length; i++)
        {
            (float comes, float goes) = place.CrossedAt(first + i);
            arriving.Left[i] *= comes;
            arriving.Right[i] *= comes;
            left[i] *= goes;
            right[i] *= goes;
        }
    }

    private int HurriedTailFrames => FadesOfHurriedTail * fadeFrames;

    private static void FadeTail(Span<float> left, Span<float> right, int framesLeft, int fade)
    {
        for (int i = 0; i < left.Length; i++)
        {
            float share = FadeCurve.Smooth((float)(framesLeft - i) / fade);
            left[i] *= share;
            right[i] *= share;
        }
    }

    private void Succeed(PlayingSong song, ref PlayingSong? place)
    {
        if (Volatile.Read(ref retired) is null)
        {
            Volatile.Write(ref retired, current);
            current = song;
            Volatile.Write(ref place, null);
        }
    }
}
