using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>
/// The thread that listens to the player's taps: meters, spectra, exposure. It takes what is there and never makes the
/// player wait; what it is asked for it does before it listens on.
/// </summary>
internal sealed class DeskAnalysis : IDisposable
{
    private const int FramesAtOnce = 2048;
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(4);

    private readonly LiveTaps taps;
    private readonly MasterListener master;
    private readonly ChainListener chain;
    private readonly Thread thread;
    private readonly float[] left = new float[FramesAtOnce];
    private readonly float[] right = new float[FramesAtOnce];
    private readonly System.Collections.Concurrent.ConcurrentQueue<Action> asked = new();
    private volatile bool isStopping;

    public DeskAnalysis(LivePlayer player)
    {
        taps = player.Taps;
        master = new MasterListener(player.SampleRate);
        chain = new ChainListener(taps.Input, taps.Output, player.SampleRate);
        Heard = new HeardListener(player.SampleRate);
        thread = new Thread(ListenOn) { IsBackground = true, Name = "analysis" };
        thread.Start();
    }

    public MeterReadings Readings => master.Readings;

    public TripleBuffer<SpectrumFrame> Spectra => chain.Pictures;

    public HeardListener Heard { get; }

    public void AskToResetMeters() => asked.Enqueue(master.Reset);

    public void AskToRun(bool isRunning) => asked.Enqueue(() => master.Run(isRunning));

    public void AskToClearSpectra() => asked.Enqueue(chain.Clear);

    public void AskToHold(bool untilCleared) => asked.Enqueue(() => chain.Hold(untilCleared));

    public void AskToAddExposure(double energySeconds) => asked.Enqueue(() => Heard.AddEarlier(energySeconds));

    public void AskToClearExposure() => asked.Enqueue(Heard.Clear);

    public void Dispose()
    {
        isStopping = true;
        thread.Join();
    }

    private void ListenOn()
    {
        while (!isStopping)
        {
            while (asked.TryDequeue(out Action? action))
            {
                action();
            }

            int fromMaster = taps.Master.Take(left, right);
            master.Add(left.AsSpan(0, fromMaster), right.AsSpan(0, fromMaster));
            int heard = taps.Heard.Take(left, right);
            Heard.Add(left.AsSpan(0, heard), right.AsSpan(0, heard));
            if (!chain.Listen() && fromMaster + heard == 0)
            {
                Thread.Sleep(Pause);
            }
        }
    }
}
