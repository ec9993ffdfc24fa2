using LiveStems.Engine.Devices;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Live;

/// <summary>The audio thread's side of a player: song, meters, views, monitor, and what to leave out under load.</summary>
internal sealed class LiveRenderer : IAudioRenderer
{
    private readonly int sampleRate;
    private readonly int maximumFrames;
    private readonly TimeProvider clock;
    private readonly MasterMeters meters;
    private Glide loudness = new(1);

    public LiveRenderer(int sampleRate, int maximumFrames, SongSwitch songs, TimeProvider clock)
    {
        this.sampleRate = sampleRate;
        this.maximumFrames = maximumFrames;
        this.clock = clock;
        Songs = songs;
        Monitor = new MonitorPath(sampleRate);
        meters = new MasterMeters(sampleRate);
        Taps = new LiveTaps(sampleRate);
    }

    /// <summary>What plays.</summary>
    public SongSwitch Songs { get; }

    public MonitorPath Monitor { get; }

    public MasterMeters Meters => meters;

    public LiveTaps Taps { get; }

    public LoadGovernor Governor { get; } = new();

    public void Render(Span<float> left, Span<float> right)
    {
        for (int done = 0; done < left.Length; done += maximumFrames)
        {
            int frames = Math.Min(maximumFrames, left.Length - done);
            int losses = PlanRunner.LossesOfThisThread;
            long start = clock.GetTimestamp();
            RenderBlock(left.Slice(done, frames), right.Slice(done, frames));
            double elapsed = (double)(clock.GetTimestamp() - start) / clock.TimestampFrequency;
            double available = (double)frames / sampleRate;
            if (PlanRunner.LossesOfThisThread == losses)
            {
                Governor.Add(elapsed / available, available);
            }
        }
    }

    private void RenderBlock(Span<float> left, Span<float> right)
    {
        LoadLevel level = Governor.Level;
        loudness.MoveTo(level == LoadLevel.Faded ? 0 : 1, PlanTiming.RampFrames(sampleRate));
        Taps.ArePaused = level >= LoadLevel.WithoutViews;
        if (loudness.Target == 0 && !loudness.IsMoving)
        {
            // Faded out: the song waits where it is.
            left.Clear();
            right.Clear();
        }
        else
        {
            StereoBuffer heard = Songs.Run(left.Length);
            heard.Left.AsSpan(0, left.Length).CopyTo(left);
            heard.Right.AsSpan(0, left.Length).CopyTo(right);
            loudness.Multiply(left, right);
            StereoBuffer master = Songs.Master;
            Look(master.Left.AsSpan(0, left.Length), master.Right.AsSpan(0, left.Length), level);
        }

        Monitor.Process(left, right);
        Taps.Heard.Write(left, right);
    }

    private void Look(ReadOnlySpan<float> left, ReadOnlySpan<float> right, LoadLevel level)
    {
        if (level < LoadLevel.WithoutMeters)
        {
            meters.Add(left, right);
        }

        Taps.Master.Write(left, right);
    }
}
