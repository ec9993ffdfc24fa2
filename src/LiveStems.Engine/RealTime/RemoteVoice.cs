using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// The audio thread's side of a processor in a process of its own: hands the sound over and takes what is back of a fixed
/// number of frames earlier. What is not back in time is the dry sound, aligned, with a fade; what comes back again fades in.
/// </summary>
/// <remarks>Never waits. A process that has died or been started anew is noticed by numbers that the watching thread writes.</remarks>
internal sealed class RemoteVoice
{
    // After a lapse so many seconds must come back in time before it is heard again; twice as many after each lapse that
    // follows within a minute, so that one that is always late does not come and go.
    private const double SettleSeconds = 0.05;
    private const double RecentSeconds = 60;
    private const int MostDoublings = 8;

    private readonly SharedLine line;
    private StereoDelayLine? dryDelay;
    private StereoBuffer dry;
    private int blockPlace;
    private readonly RampedLevel wet;
    private readonly int delayFrames;
    private readonly int latencyFrames;
    private readonly int settleFrames;
    private readonly long recentFrames;
    private readonly double[] sent;
    private FadeFromStep fade;
    private long position;
    private long silentBefore;
    private long heardFrom;
    private long filling;
    private long wantedFilling;
    private bool mustReset;
    private float lastLeft;
    private float lastRight;
    private long lostFrames;
    private long lapses;
    private bool isAway;
    private bool wasAway;
    private long framesSinceLapse;
    private int recentLapses;

    /// <param name="line">The shared memory.</param>
    /// <param name="parameters">Number of parameters.</param>
    /// <param name="format">Rate and longest block.</param>
    /// <param name="delayFrames">Frames after which what was handed over is taken back; 0 when somebody waits for it first.</param>
    /// <param name="processorFrames">Latency of the processor itself.</param>
    public RemoteVoice(SharedLine line, int parameters, ProcessingFormat format, int delayFrames, int processorFrames)
    {
        this.line = line;
        this.delayFrames = delayFrames;
        latencyFrames = delayFrames + processorFrames;
        dryDelay = new StereoDelayLine(latencyFrames);
        dry = new StereoBuffer(format.MaximumFrames);
        wet = new RampedLevel(PlanTiming.RampFrames(format.SampleRate), 1);
        fade = new FadeFromStep(PlanTiming.RampFrames(format.SampleRate));
        settleFrames = (int)(SettleSeconds * format.SampleRate);
        recentFrames = (long)(RecentSeconds * format.SampleRate);
        sent = new double[parameters];
        Array.Fill(sent, double.NaN);
    }

    /// <summary>Frames between what goes in and what comes out.</summary>
    public int LatencyFrames => latencyFrames;

    /// <summary>Any thread: frames for which the dry sound stood in.</summary>
    public long LostFrames => Volatile.Read(ref lostFrames);

    /// <summary>Any thread: times that the dry sound had to stand in.</summary>
    public long Lapses => Volatile.Read(ref lapses);

    /// <summary>Any thread: true while the dry sound stands in.</summary>
    public bool IsAway => Volatile.Read(ref isAway);

    /// <summary>Gain reduction that came back last, in dB, 0 or below.</summary>
    public float ReductionDb { get; private set; }

    /// <summary>Watching thread: a process has opened the line as this filling, from 1; 0 while there is none.</summary>
    public void Attach(long newFilling) => Volatile.Write(ref wantedFilling, newFilling);

    /// <summary>
    /// Before it plays: somebody else keeps the dry sound, aligned, and has it ready from the start of the buffer before a block
    /// begins; it need not be kept here a second time.
    /// </summary>
    public void TakeDryFrom(StereoBuffer aligned)
    {
        dry = aligned;
        dryDelay = null;
    }

    /// <summary>A block begins: what has been lost of the reduction starts afresh.</summary>
    public void BeginBlock()
    {
        ReductionDb = 0;
        blockPlace = 0;
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        mustReset = true;
        silentBefore = position;
        heardFrom = 0;
        framesSinceLapse = recentFrames + 1;
        recentLapses = 0;
        dryDelay?.Reset();
        wet.PostAndArrive(1);
        fade.Reset();
        lastLeft = 0;
        lastRight = 0;
        Volatile.Write(ref lostFrames, 0);
        Volatile.Write(ref lapses, 0);
        Volatile.Write(ref isAway, false);
    }

    /// <summary>First part of a segment: hands the sound over, with what values have changed; false when nobody takes it.</summary>
    public bool HandOver(in StereoBlock segment, Processor values)
    {
        int frames = segment.Frames;
        wasAway = isAway;
        framesSinceLapse += frames;
        if (dryDelay is not null)
        {
            Span<float> dryLeft = dry.Left.AsSpan(0, frames);
            Span<float> dryRight = dry.Right.AsSpan(0, frames);
            segment.Left.CopyTo(dryLeft);
            segment.Right.CopyTo(dryRight);
            dryDelay.Process(dryLeft, dryRight);
        }

        long wanted = Volatile.Read(ref wantedFilling);
        if (wanted != filling)
        {
            Begin(wanted);
        }

        if (filling == 0 || position + frames - ProcessedFrames > line.Capacity || !TrySend(values))
        {
            return false;
        }

        line.Put(0, position, segment.Left);
        line.Put(1, position, segment.Right);
        if (line.Channels == 4)
        {
            line.Put(2, position, segment.KeyLeft);
            line.Put(3, position, segment.KeyRight);
        }

        position += frames;
        Volatile.Write(ref line.Written, position);
        return true;
    }

    /// <summary>Second part: puts what is back, or the dry sound, in the place of the segment.</summary>
    /// <param name="segment">The segment that was handed over.</param>
    /// <param name="isHandedOver">What <see cref="HandOver"/> returned.</param>
    public void TakeBack(in StereoBlock segment, bool isHandedOver)
    {
        int frames = segment.Frames;
        long to = position - delayFrames;
        bool isBack = isHandedOver && (to <= silentBefore || ProcessedFrames >= to);
        if (isBack)
        {
            Take(segment.Left, segment.Right, to - frames);
        }
        else
        {
            Lapse(frames);
        }

        int from = dryDelay is null ? blockPlace : 0;
        blockPlace += frames;
        Span<float> dryLeft = dry.Left.AsSpan(from, frames);
        Span<float> dryRight = dry.Right.AsSpan(from, frames);
        if (isBack && isAway && position >= heardFrom)
        {
            Volatile.Write(ref isAway, false);
        }

        wet.MoveTo(isAway ? 0 : 1);
        if (wet.IsNone)
        {
            dryLeft.CopyTo(segment.Left);
            dryRight.CopyTo(segment.Right);
            if (!wasAway)
            {
                fade.Start(lastLeft - dryLeft[0], lastRight - dryRight[0]);
            }
        }
        else if (!wet.IsWhole)
        {
            wet.Blend(dryLeft, segment.Left, dryRight, segment.Right);
        }

        fade.Apply(segment.Left, segment.Right);
        lastLeft = segment.Left[^1];
        lastRight = segment.Right[^1];
    }

    private long ProcessedFrames => Math.Clamp(Volatile.Read(ref line.Processed), position - line.Capacity, position);

    // The process that had the line before is gone: nobody else writes into it now.
    private void Begin(long wanted)
    {
        if (filling != 0 || wanted > 1)
        {
            // What a fresh process gives at first is the beginning of its own silence.
            heardFrom = latencyFrames + settleFrames;
            GoAway();
        }

        filling = wanted;
        position = 0;
        silentBefore = 0;
        mustReset = false;
        Array.Fill(sent, double.NaN);
        line.Clear();
        Volatile.Write(ref line.Filling, wanted);
    }

    private bool TrySend(Processor values)
    {
        for (int i = 0; i < sent.Length; i++)
        {
            double value = values.GetParameter(i);
            if (value != sent[i])
            {
                if (!line.TryCommand(position, i, value))
                {
                    return false;
                }

                sent[i] = value;
            }
        }

        if (mustReset && !line.TryCommand(position, SharedLine.ResetCommand, 0))
        {
            return false;
        }

        mustReset = false;
        return true;
    }

    private void Take(Span<float> left, Span<float> right, long from)
    {
        int silent = (int)Math.Clamp(silentBefore - from, 0, left.Length);
        left[..silent].Clear();
        right[..silent].Clear();
        line.GetBack(0, from + silent, left[silent..]);
        line.GetBack(1, from + silent, right[silent..]);
        ReductionDb = Math.Min(ReductionDb, Volatile.Read(ref line.ReductionDb));
    }

    private void Lapse(int frames)
    {
        Volatile.Write(ref lostFrames, lostFrames + frames);

        // What is left out here is missing on the way back for as long as the latency.
        heardFrom = position + latencyFrames + ((long)settleFrames << recentLapses);
        GoAway();
    }

    private void GoAway()
    {
        if (!isAway)
        {
            recentLapses = framesSinceLapse > recentFrames ? 0 : Math.Min(recentLapses + 1, MostDoublings);
            framesSinceLapse = 0;
            Volatile.Write(ref lapses, lapses + 1);
            Volatile.Write(ref isAway, true);
            wet.PostAndArrive(0);
        }
    }
}
