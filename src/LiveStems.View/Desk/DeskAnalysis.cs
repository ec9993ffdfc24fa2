using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>The thread that listens to the player's taps: meters and spectra, some sixty times a second.</summary>
internal sealed class DeskAnalysis : IDisposable
{
    private const int FramesAtOnce = 2048;
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(5);

    private readonly LiveTaps taps;
    private readonly MasterListener master;
    private readonly Thread thread;
    private readonly float[] left = new float[FramesAtOnce];
    private readonly float[] right = new float[FramesAtOnce];
    private volatile bool isStopping;

    public DeskAnalysis(LivePlayer player)
    {
        taps = player.Taps;
        master = new MasterListener(player.SampleRate);
        thread = new Thread(ListenOn) { IsBackground = true, Name = "analysis" };
        thread.Start();
    }

    public MeterReadings Readings => master.Readings;

    public void AskToResetMeters() => master.AskToReset();

    public void AskToRun(bool isRunning) => master.AskToRun(isRunning);

    public void AskToClearPeaks() => master.AskToReset();

    public void AskToClearLongTerm() => master.AskToReset();

    public void Dispose()
    {
        isStopping = true;
        thread.Join();
    }

    private void ListenOn()
    {
        while (!isStopping)
        {
            int frames = taps.Master.Take(left, right);
            if (frames > 0)
            {
                master.Add(left.AsSpan(0, frames), right.AsSpan(0, frames));
            }
            else
            {
                Thread.Sleep(Pause);
            }
        }
    }
}
