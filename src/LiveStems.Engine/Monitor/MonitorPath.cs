using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// What the ears get of whatever is monitored: fair gain → band-listen → mono, side, swap → test signal in its place →
/// level and dim → safety limiter. Never part of a render.
/// </summary>
/// <remarks>
/// <para>
/// Settings come from one thread (<see cref="Post"/>), sound goes through on another (<see cref="Process"/>), meters may be
/// read on any; nobody waits for anybody. All memory comes with construction; <see cref="Process"/> allocates nothing.
/// Every change of settings takes 10 ms, that of the band's place 20 ms, on curves without a corner, however soon the next
/// one follows; the other slope of the band comes when its filter has settled. With settings that stand still the output
/// does not depend on how the sound is cut into calls.
/// </para>
/// <para>
/// Band-listen: Butterworth edges at centre · 2^(∓width/2), each 3 dB down at its edge (so a band of a third octave or less
/// is some dB down at its centre, which the make-up brings back); the upper one at most 0.49 of the sample rate. The
/// make-up brings the band up by 0 to 24 dB, to 1 dB below the loudness of the whole where the band is steady and lower
/// where it swings, and by ITU-R BS.1770 over 400 ms never above it.
/// </para>
/// <para>
/// The safety limiter holds samples at its ceiling whatever comes in, and true peaks within 0.1 dB of it. A sample that is
/// not finite silences both sides, with a fade, until the input has been sound for 10 ms.
/// </para>
/// </remarks>
public sealed class MonitorPath
{
    private const int StepsPerSecond = 1500;
    private const double FadeSeconds = 0.01;

    // A filter that moves adds less of its own when it takes longer.
    private const int BandMoveFades = 2;
    private const double HoldSeconds = 3;

    private readonly int stepFrames;
    private readonly int fadeFrames;
    private readonly SampleGuard guard;
    private readonly BandListen bandListen;
    private readonly ChannelChoice channels = new();
    private readonly SignalChoice signal;
    private readonly SafetyLimiter limiter;
    private readonly HeldReduction heldReduction;
    private readonly PeakHold leftPeak = new();
    private readonly PeakHold rightPeak = new();
    private MonitorTargets posted;
    private MonitorTargets targets;
    private Glide fairGain;
    private Glide level;
    private int position;
    private float reductionDb;
    private double makeUpDb;

    /// <summary>Prepares the monitor, with the settings of <see cref="MonitorSettings.AtStart"/>: dimmed.</summary>
    /// <param name="sampleRate">Frames per second, 8 000 to 384 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">The sample rate is outside its range.</exception>
    public MonitorPath(int sampleRate)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, 8_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRate, 384_000);
        stepFrames = (int)Math.Round((double)sampleRate / StepsPerSecond);
        fadeFrames = (int)Math.Round(FadeSeconds * sampleRate);
        guard = new(fadeFrames);
        bandListen = new(sampleRate, stepFrames, fadeFrames);
        signal = new(sampleRate, stepFrames);
        limiter = new(sampleRate, stepFrames, fadeFrames);
        heldReduction = new((int)(HoldSeconds * sampleRate));
        posted = targets = new(MonitorSettings.AtStart);
        Reset();
    }

    /// <summary>Frames between input and output, whatever the settings: at most 3.5 ms from 44.1 kHz up.</summary>
    public int LatencyFrames => bandListen.LatencyFrames + limiter.LatencyFrames;

    /// <summary>Deepest reduction of the safety limiter in the last call of <see cref="Process"/>, in decibels, 0 or above.</summary>
    public double SafetyReductionDb => Volatile.Read(ref reductionDb);

    /// <summary>Deepest reduction of the safety limiter in the last three seconds or so, in decibels, 0 or above: long enough to be read.</summary>
    public double HeldSafetyReductionDb => heldReduction.Db;

    /// <summary>What the make-up adds to the band of band-listen, heard or not, in decibels, 0 to 24.</summary>
    public double BandMakeUpDb => Volatile.Read(ref makeUpDb);

    /// <summary>Samples that came in and were not finite, since construction.</summary>
    public long NonFiniteSamples => guard.Caught + limiter.Caught;

    /// <summary>
    /// Asks for settings, each held within its range; of several the last one counts. From one thread at a time, any but
    /// the audio thread.
    /// </summary>
    /// <exception cref="ArgumentException">A setting is not a number; the settings before stay.</exception>
    public void Post(MonitorSettings settings) => Volatile.Write(ref posted, new MonitorTargets(settings));

    /// <summary>The largest sample of each side behind the safety limiter since this was last asked, as magnitudes.</summary>
    public (float Left, float Right) TakePeaks() => (leftPeak.Take(), rightPeak.Take());

    /// <summary>Audio thread: turns the next frames into what the ears get, in place; both sides of one length, any length.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        float deepest = 0;
        int done = 0;
        while (done < left.Length)
        {
            if (position == 0)
            {
                StartStep();
            }

            int frames = Math.Min(left.Length - done, stepFrames - position);
            deepest = Math.Max(deepest, ProcessPart(left.Slice(done, frames), right.Slice(done, frames)));
            done += frames;
            position += frames;
            if (position == stepFrames)
            {
                EndStep();
            }
        }

        leftPeak.Add(Magnitude.Largest(left));
        rightPeak.Add(Magnitude.Largest(right));
        Volatile.Write(ref reductionDb, deepest);
        heldReduction.Add(deepest, left.Length);
        Volatile.Write(ref makeUpDb, bandListen.MakeUpDb);
    }

    /// <summary>
    /// State as if from silence, with the settings last posted at once; not while <see cref="Process"/> runs. The count of
    /// samples that were not finite stays.
    /// </summary>
    public void Reset()
    {
        targets = Volatile.Read(ref posted);
        position = 0;
        fairGain.Jump(targets.FairGain);
        level.Jump(targets.Level);
        channels.Jump(targets.Channels);
        guard.Reset();
        bandListen.Reset(targets);
        signal.Reset(targets.Signal);
        limiter.Reset(targets.CeilingDb);
        TakePeaks();
        heldReduction.Reset();
        Volatile.Write(ref reductionDb, 0);
        Volatile.Write(ref makeUpDb, 0);
    }

    private float ProcessPart(Span<float> left, Span<float> right)
    {
        guard.Process(left, right);
        Planar.FlushTinyAndCheckFinite(left);
        Planar.FlushTinyAndCheckFinite(right);
        fairGain.Multiply(left, right);
        bandListen.Process(left, right);
        channels.Process(left, right);
        signal.Process(left, right);
        level.Multiply(left, right);
        return limiter.Process(left, right);
    }

    private void StartStep()
    {
        MonitorTargets wanted = Volatile.Read(ref posted);
        if (wanted != targets)
        {
            targets = wanted;
            fairGain.MoveTo(wanted.FairGain, fadeFrames);
            level.MoveTo(wanted.Level, fadeFrames);
            channels.MoveTo(wanted.Channels, fadeFrames);
            bandListen.MoveTo(wanted, fadeFrames, BandMoveFades * fadeFrames);
            signal.MoveTo(wanted.Signal, fadeFrames);
            limiter.MoveTo(wanted.CeilingDb, fadeFrames);
        }

        bandListen.StartStep();
        limiter.StartStep();
    }

    private void EndStep()
    {
        position = 0;
        bandListen.EndStep();
        limiter.EndStep();
    }
}
