namespace LiveStems.Engine.Monitor;

/// <summary>Music, or a signal to set the listening level by; a change is a cross-fade.</summary>
internal sealed class SignalChoice(int sampleRate, int maximumFrames)
{
    private readonly LevelTone tone = new(sampleRate);
    private readonly PinkNoise noise = new(sampleRate);
    private readonly float[] signal = new float[maximumFrames];
    private readonly float[] room = new float[maximumFrames];
    private Glide musicShare = new(1);
    private Glide toneShare;
    private Glide noiseShare;

    /// <summary>State as if from silence, with this choice at once.</summary>
    public void Reset(MonitorSignal wanted)
    {
        musicShare.Jump(wanted == MonitorSignal.Music ? 1 : 0);
        toneShare.Jump(wanted == MonitorSignal.Tone ? 1 : 0);
        noiseShare.Jump(wanted == MonitorSignal.PinkNoise ? 1 : 0);
        tone.Reset();
        noise.Reset();
    }

    /// <summary>Sets off for another choice.</summary>
    public void MoveTo(MonitorSignal wanted, int frames)
    {
        musicShare.MoveTo(wanted == MonitorSignal.Music ? 1 : 0, frames);
        toneShare.MoveTo(wanted == MonitorSignal.Tone ? 1 : 0, frames);
        noiseShare.MoveTo(wanted == MonitorSignal.PinkNoise ? 1 : 0, frames);
    }

    /// <summary>Puts the signal in the place of the music, or lets the music be; in place.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        musicShare.Multiply(left, right);
        Span<float> samples = signal.AsSpan(0, left.Length);
        if (toneShare.IsMoving || toneShare.Target != 0)
        {
            tone.Fill(samples);
            Add(ref toneShare, samples, left, right);
        }

        if (noiseShare.IsMoving || noiseShare.Target != 0)
        {
            noise.Fill(samples, room.AsSpan(0, left.Length));
            Add(ref noiseShare, samples, left, right);
        }
    }

    private static void Add(ref Glide share, ReadOnlySpan<float> samples, Span<float> left, Span<float> right)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            float heard = (float)(share.Advance(1) * samples[i]);
            left[i] += heard;
            right[i] += heard;
        }
    }
}
