using System.Diagnostics;
using System.Globalization;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// When a processor of the machine stood still, as a virtual one does while its host serves others: a thread on each
/// processor, ranked above everything else, sleeps for a quarter of a millisecond again and again, and notes when it was woken
/// too late. No program on the machine can hold it up, so what is noted is nobody's fault here.
/// </summary>
internal sealed class HostStalls : IDisposable
{
    private const string Source = """
        #define _GNU_SOURCE
        #include <pthread.h>
        #include <sched.h>
        #include <stdio.h>
        #include <time.h>
        #include <unistd.h>
        #define SLEEP 250000LL
        #define NOTED 300000LL
        static long long now(void) { struct timespec t; clock_gettime(CLOCK_MONOTONIC, &t); return t.tv_sec * 1000000000LL + t.tv_nsec; }
        static void *watch(void *number) {
            cpu_set_t one;
            struct sched_param p = { .sched_priority = 90 };
            CPU_ZERO(&one);
            CPU_SET((long)number, &one);
            if (sched_setaffinity(0, sizeof one, &one) || sched_setscheduler(0, SCHED_FIFO, &p)) { puts("refused"); return 0; }
            for (;;) {
                long long due = now() + SLEEP;
                struct timespec t = { due / 1000000000LL, due % 1000000000LL };
                clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &t, 0);
                long long woken = now();
                if (woken - due > NOTED) printf("%lld %lld\n", due, woken);
            }
        }
        int main(void) {
            pthread_t thread;
            setvbuf(stdout, 0, _IOLBF, 0);
            for (long i = 0; i < sysconf(_SC_NPROCESSORS_ONLN); i++) pthread_create(&thread, 0, watch, (void *)i);
            getchar();
            return 0;
        }
        """;

    private readonly string folder;
    private readonly Process watcher;
    private readonly Lock access = new();
    private readonly List<(long Begin, long End)> stalls = [];

    private HostStalls(string folder, Process watcher)
    {
        this.folder = folder;
        this.watcher = watcher;
        watcher.OutputDataReceived += (_, line) => Note(line.Data);
        watcher.BeginOutputReadLine();
    }

    /// <summary>False where threads may not be ranked above all others: then nothing is known of the machine.</summary>
    public bool IsWatching { get; private set; } = true;

    /// <summary>Compiles the watcher and starts it.</summary>
    public static HostStalls Watch()
    {
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        string program = CProgram.Build(folder, "stalls", Source, "-pthread");
        return new HostStalls(folder, Process.Start(new ProcessStartInfo(program) { RedirectStandardInput = true, RedirectStandardOutput = true })!);
    }

    /// <summary>Ticks of <see cref="Stopwatch"/> within these spans during which some processor stood still.</summary>
    public long TicksWithin(IEnumerable<(long Begin, long End)> spans)
    {
        lock (access)
        {
            return spans.Sum(Within);
        }
    }

    /// <summary>Ticks of <see cref="Stopwatch"/> within a span during which some processor stood still.</summary>
    public long TicksWithin(long begin, long end) => TicksWithin([(begin, end)]);

    public void Dispose()
    {
        watcher.StandardInput.Close();
        watcher.WaitForExit();
        watcher.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    // Two processors may stand still at once: what they share counts once.
    private long Within((long Begin, long End) span)
    {
        long ticks = 0;
        long counted = span.Begin;
        foreach ((long begin, long end) in stalls.Where(stall => stall.End > span.Begin && stall.Begin < span.End).Order())
        {
            long from = Math.Max(begin, counted);
            long to = Math.Min(end, span.End);
            ticks += Math.Max(0, to - from);
            counted = Math.Max(counted, to);
        }

        return ticks;
    }

    private void Note(string? line)
    {
        if (line?.Split(' ') is [var begin, var end])
        {
            lock (access)
            {
                stalls.Add((TicksOf(begin), TicksOf(end)));
            }
        }
        else if (line is not null)
        {
            IsWatching = false;
        }
    }

    // The stopwatch counts the same clock.
    private static long TicksOf(string nanoseconds) =>
        (long)(long.Parse(nanoseconds, CultureInfo.InvariantCulture) * (Stopwatch.Frequency / 1e9));
}
