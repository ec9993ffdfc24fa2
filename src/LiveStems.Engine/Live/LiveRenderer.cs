using LiveStems.Engine.Devices;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Live;

/// <summary>The audio thread's side of a player: song, monitor, meters.</summary>
internal sealed class LiveRenderer : IAudioRenderer
{
    private readonly int maximumFrames;
    private readonly MasterMeters meters;

    public LiveRenderer(int sampleRate, int maximumFrames, SongSwitch songs)
    {
        this.maximumFrames = maximumFrames;
        Songs = songs;
        Monitor = new MonitorPath(sampleRate);
        meters = new MasterMeters(sampleRate);
        Taps = new LiveTaps(sampleRate);
    }

    public SongSwitch Songs { get; }

    public MonitorPath Monitor { get; }

    public MasterMeters Meters => meters;

    public LiveTaps Taps { get; }

    public void Render(Span<float> left, Span<float> right)
    {
        for (int done = 0; done < left.Length; done += maximumFrames)
        {
            int frames = Math.Min(maximumFrames, left.Length - done);
            StereoBuffer master = Songs.Run(frames);
            Span<float> blockLeft = left.Slice(done, frames);
            Span<float> blockRight = right.Slice(done, frames);
            master.Left.AsSpan(0, frames).CopyTo(blockLeft);
            master.Right.AsSpan(0, frames).CopyTo(blockRight);
            meters.Add(blockLeft, blockRight);
            Taps.Master.Write(blockLeft, blockRight);
            Monitor.Process(blockLeft, blockRight);
            Taps.Heard.Write(blockLeft, blockRight);
        }
    }
}
