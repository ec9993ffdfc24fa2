using LiveStems.Dsp;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Saturator;

/// <summary>
/// The gain behind the curve: what the engineer set and, while loudness is matched, the drive taken back at once and what
/// the curve changed beyond that by <see cref="LoudnessMakeUp"/>.
/// </summary>
internal sealed class SaturatorLevel(int sampleRate, int latencyFrames, int fadeSteps)
{
    private const double LowestMatchDb = -40;

    private readonly LoudnessMakeUp loudness = new(sampleRate, Processor.ControlInterval, LowestMatchDb);
    private readonly LookAheadDelay delayLeft = new(latencyFrames);
    private readonly LookAheadDelay delayRight = new(latencyFrames);
    private readonly float[] left = new float[SaturatorProcessor.ChunkFrames];
    private readonly float[] right = new float[SaturatorProcessor.ChunkFrames];
    private bool isMatching;
    private bool listens;
    private int heardSteps;

    /// <summary>The gain over the present control interval, as an amplitude.</summary>
    public Ramp Gain { get; private set; }

    /// <summary>True while <see cref="StartInterval"/> is due at every control interval.</summary>
    public bool Moves => isMatching || heardSteps > 0 || !Gain.StandsStill;

    /// <summary>As if from silence.</summary>
    public void Reset(double outputDb, double driveDb, bool matches)
    {
        Forget();
        isMatching = matches;
        heardSteps = matches ? fadeSteps : 0;
        Gain = new Ramp(Amplitude(outputDb, driveDb));
    }

    /// <summary>Switches the matching; its part of the gain fades in or out.</summary>
    public void Follow(bool matches)
    {
        if (matches && !isMatching)
        {
            Forget();
        }

        isMatching = matches;
    }

    /// <summary>Moves on to the next control interval.</summary>
    public void StartInterval(double outputDb, double driveDb)
    {
        if (isMatching && listens)
        {
            // The curve's output is as loud as the drive made it.
            loudness.EndInterval(driveDb);
        }

        listens = isMatching;
        heardSteps = Math.Clamp(heardSteps + (isMatching ? 1 : -1), 0, fadeSteps);
        Gain = Gain.Towards(Amplitude(outputDb, driveDb), Processor.ControlInterval);
    }

    /// <summary>Hears sound before the curve; it is compared with what comes out of it a latency later.</summary>
    public void HearBefore(ReadOnlySpan<float> soundLeft, ReadOnlySpan<float> soundRight)
    {
        if (!listens)
        {
            return;
        }

        Span<float> delayedLeft = left.AsSpan(0, soundLeft.Length);
        Span<float> delayedRight = right.AsSpan(0, soundRight.Length);
        soundLeft.CopyTo(delayedLeft);
        soundRight.CopyTo(delayedRight);
        delayLeft.Process(delayedLeft);
        delayRight.Process(delayedRight);
        loudness.AddBefore(delayedLeft, delayedRight);
    }

    /// <summary>Hears what came out of the curve.</summary>
    public void HearAfter(ReadOnlySpan<float> soundLeft, ReadOnlySpan<float> soundRight)
    {
        if (listens)
        {
            loudness.AddAfter(soundLeft, soundRight);
        }
    }

    private void Forget()
    {
        loudness.Reset();
        delayLeft.Reset();
        delayRight.Reset();
        listens = false;
    }

    private float Amplitude(double outputDb, double driveDb) =>
        (float)Decibels.ToAmplitude(outputDb + (loudness.GainDb - driveDb) * heardSteps / fadeSteps);
}
