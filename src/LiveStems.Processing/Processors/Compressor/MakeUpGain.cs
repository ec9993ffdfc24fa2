using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Compressor;

/// <summary>
/// The gain behind the compression: what the engineer set plus, when switched on, what keeps the loudness.
/// </summary>
internal sealed class MakeUpGain(int sampleRate)
{
    private readonly LoudnessMakeUp loudness = new(sampleRate, Processor.ControlInterval);
    private bool automatic;
    private bool listens;

    /// <summary>The gain in dB over the present control interval.</summary>
    public Ramp Db { get; private set; }

    /// <summary>
    /// True while the gain moves or may move from one control interval to the next: then <see cref="StartInterval"/> is
    /// due at each.
    /// </summary>
    public bool Moves => automatic || loudness.GainDb > 0 || !Db.StandsStill;

    /// <summary>As if from silence.</summary>
    public void Reset(double makeUpDb, bool followsLoudness)
    {
        loudness.Reset();
        automatic = followsLoudness;
        listens = false;
        Db = new Ramp((float)makeUpDb);
    }

    /// <summary>Switches the automatic part; switched off, it fades within a few control intervals.</summary>
    public void Follow(bool loudnessOn)
    {
        if (loudnessOn && !automatic)
        {
            loudness.StartOver();
            listens = false;
        }

        automatic = loudnessOn;
    }

    /// <summary>Moves on to the next control interval.</summary>
    public void StartInterval(double makeUpDb)
    {
        if (!automatic)
        {
            loudness.Fade();
        }
        else if (listens)
        {
            loudness.EndInterval((Db.Start + Db.Target) / 2);
        }

        listens = automatic;
        Db = Db.Towards((float)(makeUpDb + loudness.GainDb), Processor.ControlInterval);
    }

    /// <summary>Hears sound that has not been compressed yet.</summary>
    public void HearBefore(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (listens)
        {
            loudness.AddBefore(left, right);
        }
    }

    /// <summary>Hears the same sound with its gain.</summary>
    public void HearAfter(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (listens)
        {
            loudness.AddAfter(left, right);
        }
    }
}
