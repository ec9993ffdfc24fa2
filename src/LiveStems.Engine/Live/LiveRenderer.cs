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
            StereoBuffer heard = Songs.Run(frames);
            Span<float> blockLeft = left.Slice(done, frames);
            Span<float> blockRight = right.Slice(done, frames);
            heard.Left.AsSpan(0, frames).CopyTo(blockLeft);
            heard.Right.AsSpan(0, frames).CopyTo(blockRight);
            StereoBuffer master = Songs.Master;
            meters.Add(master.Left.AsSpan(0, frames), master.Right.AsSpan(0, frames));
            Taps.Master.Write(master.Left.AsSpan(0, frames), master.Right.AsSpan(0, frames));
            Monitor.Process(blockLeft, blockRight);
            Taps.Heard.Write(blockLeft, blockRight);
        }
    }
}
