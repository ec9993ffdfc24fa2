using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Live;

/// <content>Playing and stopping, jumps and loops.</content>
public sealed partial class LivePlayer
{
    private LoopRegion? loop;
    private LoopRegion? loopBefore;
    private Arrival? jumpOnArrival;
    private bool playsOnArrival;

    /// <summary>Starts to play from where it stands.</summary>
    public void Play() => SetPlaying(true);

    /// <summary>Stops; the position stays.</summary>
    public void Stop() => SetPlaying(false);

    /// <summary>Goes to a place in the song, playing or not, without a stall.</summary>
    public void JumpTo(double seconds, (double Start, double End)? loop = null)
    {
        if (IsOpening || (arriving ?? playing) is not { } loaded)
        {
            // In the song to come; the one that still plays is left alone.
            jumpOnArrival = Latest is { } coming ? new(coming, seconds, loop) : null;
            return;
        }

        long frame = Math.Clamp((long)Math.Round(seconds * SampleRate), 0, loaded.Plan.Sources.Frames);
        this.loop = Region(loaded, loop);
        loaded.Streamer.JumpTo(this.loop is null ? frame : Math.Min(frame, this.loop.EndFrame - 1), this.loop);
    }

    /// <summary>
    /// Loops a stretch, or no more. The music goes on as it does where it is inside the stretch; otherwise it goes to its start.
    /// </summary>
    /// <param name="stretch">Start and end in seconds; null for no loop.</param>
    public void SetLoop((double Start, double End)? stretch)
    {
        if (IsOpening || (arriving ?? playing) is not { } loaded)
        {
            // Of the song to come; the one that still plays is left alone.
            jumpOnArrival = Latest is { } coming && (stretch?.Start ?? jumpOnArrival?.Seconds) is { } start ? new(coming, start, stretch) : null;
            return;
        }

        LoopRegion? region = Region(loaded, stretch);
        long next = loaded.Plan.Sources.Head.Position;
        if (region is null || (next >= region.StartFrame && next < region.EndFrame))
        {
            loop = region;
            loaded.Streamer.GoOn(region);
        }
        else
        {
            // What is heard may be inside still when what comes next is not.
            double heard = HeardSeconds;
            JumpTo(heard >= stretch!.Value.Start && heard < stretch.Value.End ? heard : stretch.Value.Start, stretch);
        }
    }

    private void SetPlaying(bool isPlaying)
    {
        playsOnArrival = isPlaying;
        foreach (LoadedSong loaded in new[] { playing, arriving, following }.OfType<LoadedSong>())
        {
            loaded.ShouldPlay = isPlaying;
        }
    }

    private double HeardSeconds =>
        (arriving ?? playing)?.Plan is { } plan ? (double)plan.Sources.Head.PositionBefore(plan.LatencyFrames) / SampleRate : 0;

    private LoopRegion? Region(LoadedSong loaded, (double Start, double End)? stretch)
    {
        if (stretch is not { } wantedLoop)
        {
            return null;
        }

        long start = Math.Clamp((long)Math.Round(wantedLoop.Start * SampleRate), 0, loaded.Plan.Sources.Frames);
        long shortest = 4L * PlanTiming.RampFrames(SampleRate);
        return new LoopRegion(start, Math.Max(start + shortest, (long)Math.Round(wantedLoop.End * SampleRate)));
    }

    /// <summary>Where to go in a song once it is here.</summary>
    /// <param name="Song">The song that was on its way.</param>
    /// <param name="Seconds">The place.</param>
    /// <param name="Loop">The stretch that is looped there, or null.</param>
    private readonly record struct Arrival(SongRequest Song, double Seconds, (double Start, double End)? Loop);
}
