using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Live;

/// <summary>Where a player's sound can be looked at; each for one analysing thread.</summary>
public sealed class LiveTaps
{
    private const double HeldSeconds = 0.75;

    internal LiveTaps(int sampleRate)
    {
        int frames = (int)(HeldSeconds * sampleRate);
        Master = new SoundTap(frames);
        Heard = new SoundTap(frames);
        Input = new SoundTap(frames);
        Output = new SoundTap(frames);
    }

    /// <summary>The song before the monitor.</summary>
    public SoundTap Master { get; }

    /// <summary>What goes to the device.</summary>
    public SoundTap Heard { get; }

    /// <summary>The input of the chain or processor that <see cref="LivePlayer.Tap"/> chose.</summary>
    public SoundTap Input { get; }

    /// <summary>Its output; later than the input by the latency of what lies between.</summary>
    public SoundTap Output { get; }

    /// <summary>Audio thread: true while all of them take nothing, to save time.</summary>
    internal bool ArePaused
    {
        set => Master.IsPaused = Heard.IsPaused = Input.IsPaused = Output.IsPaused = value;
    }
}
