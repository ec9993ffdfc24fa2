using LiveStems.Engine.Devices.Native;

namespace LiveStems.Engine.Live;

/// <summary>
/// Keeps collections beside the music short. What is new the runtime collects in portions, as it is told when the program
/// starts (<c>System.GC.Gen0MaxBudget</c>). What has survived that once it would leave until there are some 6 MB of it, and
/// move what is still needed at once, while all threads stand: here it is collected in smaller portions too, which holds the
/// threads for as long altogether, and never for long.
/// </summary>
/// <remarks>
/// What costs is memory touched for the first time, a page fault for every 4 kB: where one takes 27 µs, 6 MB took 37 ms. A
/// thread of its own looks, since nobody else comes by while much is made; it is raised as far as threads are that work for
/// the sound, because a collection is done by the thread that asks for it while all others wait.
/// </remarks>
internal sealed class YoungMemory : IDisposable
{
    private const int SecondGeneration = 1;
    private const long MostBytes = 1 << 20;
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(20);

    private readonly ManualResetEventSlim ending = new();
    private Thread? thread;
    private int seen = GC.CollectionCount(0);

    /// <summary>Begins to look.</summary>
    public void Begin()
    {
        thread = new Thread(LookOn) { IsBackground = true, Name = "young memory" };
        thread.Start();
    }

    /// <summary>Ends looking.</summary>
    public void Dispose()
    {
        ending.Set();
        thread?.Join();
        ending.Dispose();
    }

    /// <summary>One look; does nothing where nothing has been collected since the last.</summary>
    internal void Keep()
    {
        if (GC.CollectionCount(0) == seen)
        {
            return;
        }

        if (GC.GetGCMemoryInfo(GCKind.Any).GenerationInfo[SecondGeneration].SizeAfterBytes > MostBytes)
        {
            GC.Collect(SecondGeneration, GCCollectionMode.Forced, blocking: true);
        }

        seen = GC.CollectionCount(0);
    }

    private void LookOn()
    {
        AudioThread.RaiseHelper();
        while (!ending.Wait(BetweenLooks))
        {
            Keep();
        }
    }
}
