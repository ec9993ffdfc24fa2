using System.Diagnostics;
using System.Globalization;
using LiveStems.Engine.Devices;
using LiveStems.View.Desk;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>
/// What is measured of an open window: how fast pictures come and what they spend their time on, what is allocated, whether
/// memory stays level, and each drop-out of the sound held against the stops of the runtime.
/// </summary>
/// <param name="hasHands">True under random hands.</param>
/// <param name="settleSeconds">After how long it counts as settled: everything has been on the screen once.</param>
/// <param name="isWholly">True to listen to the runtime and to collect garbage for exact figures; for measurements only.</param>
internal sealed class WindowReport(bool isWholly, bool hasHands, double settleSeconds) : IDisposable
{
    private const double SettlePlaySeconds = 5;
    private const double AfterCollectionSeconds = 0.5;

    private readonly long start = Stopwatch.GetTimestamp();
    private GarbageCollections? stops;
    private long heapAt;
    private long settledAt;
    private long allocated;
    private long heap;
    private int objects;
    private long underruns;
    private long calls;

    /// <summary>Seconds from the program's start to the window, the album, the first picture and the first with all plots.</summary>
    public (double Window, double Album, double First, double Complete) Seconds { get; set; }

    /// <summary>Seconds since the program's start.</summary>
    public static double SinceProgramStart()
    {
        using Process process = Process.GetCurrentProcess();
        return (DateTime.Now - process.StartTime).TotalSeconds;
    }

    /// <summary>After each picture. What is steady begins when the sound has been compiled and has played for a while.</summary>
    public void Look(WindowLoop loop, AlbumDesk desk, bool plays)
    {
        if (Seconds.First == 0)
        {
            Seconds = Seconds with { First = SinceProgramStart() };
        }

        if (Seconds.Complete == 0 && loop.IsComplete)
        {
            Seconds = Seconds with { Complete = SinceProgramStart() };
        }

        if (heapAt != 0 && settledAt == 0 && Stopwatch.GetElapsedTime(heapAt).TotalSeconds > AfterCollectionSeconds)
        {
            settledAt = Stopwatch.GetTimestamp();
            allocated = GC.GetTotalAllocatedBytes();
            objects = GlObjects.Count;
            (underruns, calls) = (desk.Device.Statistics.Underruns, desk.Device.Statistics.Calls);
            loop.Parts.Clear();
        }

        if (heapAt == 0 && Stopwatch.GetElapsedTime(start).TotalSeconds > settleSeconds && (!plays || hasHands || desk.Transport.PositionSeconds > SettlePlaySeconds))
        {
            // Collecting stops the sound, and listening to the runtime takes time to set up: both come before what is counted.
            stops = isWholly ? new GarbageCollections() : null;
            heap = GC.GetTotalMemory(forceFullCollection: isWholly);
            heapAt = Stopwatch.GetTimestamp();
        }
    }

    /// <summary>All of it in one line.</summary>
    public string Sum(WindowLoop loop, AlbumDesk desk)
    {
        double seconds = settledAt == 0 ? 0 : Stopwatch.GetElapsedTime(settledAt).TotalSeconds;
        double rate = seconds == 0 ? 0 : (GC.GetTotalAllocatedBytes() - allocated) / 1e6 / seconds;
        FrameTimes times = loop.Times;
        string text = string.Create(
            CultureInfo.InvariantCulture,
            $"{times.Count} pictures, {times.PerSecond:0.0} a second; drawing took {Milliseconds(times)}; after the program's start: window {Seconds.Window:0.00} s, album {Seconds.Album:0.00} s, first picture {Seconds.First:0.00} s, with all plots {Seconds.Complete:0.00} s; {rate:0.00} MB allocated a second; {GlObjects.Count} OpenGL objects; {loop.Renderer}; OpenGL by timer query {Milliseconds(loop.GpuTimes)}");
        string sound = isWholly ? SoundWords(desk) : string.Empty;
        return isWholly ? $"{text}; since it was settled, in ms: {loop.Parts}; {MemoryWords()}; {sound}" : text;
    }

    public void Dispose() => stops?.Dispose();

    private static string Milliseconds(FrameTimes times) => string.Create(
        CultureInfo.InvariantCulture, $"{times.WorkAt(0.5) * 1000:0.0} ms (median), {times.WorkAt(0.99) * 1000:0.0} ms (99 %), {times.WorkAt(1) * 1000:0.0} ms (longest)");

    private string MemoryWords() => string.Create(
        CultureInfo.InvariantCulture, $"heap {heap / 1e6:0.0} MB then, {GC.GetTotalMemory(forceFullCollection: true) / 1e6:0.0} MB at the end; OpenGL objects {objects} then, {GlObjects.Count} now");

    private string SoundWords(AlbumDesk desk)
    {
        AudioStatistics sound = desk.Device.Statistics;
        if (stops is null)
        {
            return $"closed before it was settled; {sound.Faults} faults";
        }

        (int count, double stopped) = stops.Since(settledAt);
        Underrun[] late = [.. sound.LatestUnderruns.Where(each => each.Timestamp >= settledAt)];
        int beside = late.Count(each => StoppedTicks(each) > 0);
        string others = hasHands ? string.Concat(late.Where(each => StoppedTicks(each) < each.LateTicks).Select(each => string.Create(CultureInfo.InvariantCulture, $"; from {each.PunctualTimestamp} to {each.Timestamp}: {each.LateTicks} late, stopped {StoppedTicks(each)}"))) : string.Empty;
        double longest = late.Length == 0 ? 0 : late.Max(each => each.LateTicks) * 1e3 / Stopwatch.Frequency;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{sound.Underruns - underruns} drop-outs in {sound.Calls - calls} periods ({late.Length} times, {beside} of them beside a stop of the runtime, {longest:0.0} ms late at most), {underruns} before; audio thread {sound.Priority}; the runtime stopped {count} times, {stopped:0.0} ms at most{others}; {sound.Faults} faults");
    }

    private long StoppedTicks(Underrun underrun) => stops!.TicksStopped(underrun.PunctualTimestamp, underrun.Timestamp);
}
