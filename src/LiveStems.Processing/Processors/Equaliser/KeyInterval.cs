using LiveStems.Dsp.Dynamics;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>
/// What came into the equaliser in the last control interval, and the key beside it: what detectors listen to, held back by
/// the latency so that the gain and the sound it is for meet.
/// </summary>
internal sealed class KeyInterval
{
    private readonly float[][] own = [new float[Processor.ControlInterval], new float[Processor.ControlInterval]];
    private readonly float[][] key = [new float[Processor.ControlInterval], new float[Processor.ControlInterval]];
    private LookAheadDelay[] delays = [];
    private int latency;

    /// <summary>Takes memory for a latency.</summary>
    public void Prepare(int latencyFrames)
    {
        latency = latencyFrames;
        delays = latency == 0 ? [] : [new(latency), new(latency), new(latency), new(latency)];
    }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        foreach (LookAheadDelay delay in delays)
        {
            delay.Reset();
        }

        for (int channel = 0; channel < 2; channel++)
        {
            Array.Clear(own[channel]);
            Array.Clear(key[channel]);
        }
    }

    /// <summary>Hears a part of the present interval, before it is processed.</summary>
    public void Hear(in StereoBlock part, int position)
    {
        Take(part.Left, own[0].AsSpan(position, part.Frames), 0);
        Take(part.Right, own[1].AsSpan(position, part.Frames), 1);
        Take(part.KeyLeft, key[0].AsSpan(position, part.Frames), 2);
        Take(part.KeyRight, key[1].AsSpan(position, part.Frames), 3);
    }

    /// <summary>Mean power of a band in the interval.</summary>
    public double Power(KeyBand band, bool ofKey)
    {
        float[][] sound = ofKey ? key : own;
        return band.Power(sound[0], sound[1]);
    }

    private void Take(ReadOnlySpan<float> from, Span<float> to, int delay)
    {
        from.CopyTo(to);
        if (latency > 0)
        {
            delays[delay].Process(to);
        }
    }
}
