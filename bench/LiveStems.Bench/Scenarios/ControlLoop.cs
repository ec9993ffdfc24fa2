using System.Diagnostics;
using LiveStems.Engine.Devices;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// A bare C loop with the same period, the same work and the same buffers waiting in its device as the player: what the
/// machine itself does to anyone's deadlines.
/// </summary>
internal static class ControlLoop
{
    private const string Source = """
        #define _GNU_SOURCE
        #include <sched.h>
        #include <stdio.h>
        #include <stdlib.h>
        #include <time.h>
        static long long now(void) { struct timespec t; clock_gettime(CLOCK_MONOTONIC, &t); return t.tv_sec * 1000000000LL + t.tv_nsec; }
        int main(int argc, char **argv) {
            long long period = atoll(argv[1]), work = atoll(argv[2]); int count = atoi(argv[3]), waiting = atoi(argv[5]), calls = 0;
            struct sched_param p = { .sched_priority = 50 };
            if (atoi(argv[4])) sched_setscheduler(0, SCHED_FIFO, &p);
            long long (*times)[4] = calloc(count, sizeof *times), start = now() + period, punctual = start;
            for (long long i = 0; i < count; calls++) {
                long long due = start + i * period;
                struct timespec t = { due / 1000000000LL, due % 1000000000LL };
                if (now() < due) punctual = due;
                clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &t, NULL);
                long long begun = now(), ready;
                while ((ready = now()) - begun < work) { }
                long long late = ready - due - waiting * period;
                times[calls][0] = begun - due;
                times[calls][1] = ready;
                times[calls][2] = punctual;
                times[calls][3] = late;
                i += late < 0 ? 1 : 2 + late / period;
            }
            for (int i = 0; i < calls; i++) printf("%lld %lld %lld %lld\n", times[i][0], times[i][1], times[i][2], times[i][3]);
        }
        """;

    /// <summary>Compiles the loop into a folder with the system's C compiler.</summary>
    public static string Build(string folder) => CProgram.Build(folder, "control", Source);

    /// <summary>Runs so many periods with so much work in each and so many buffers waiting, adds how late each began and returns when the device ran dry.</summary>
    public static IReadOnlyList<Underrun> Run(string program, double periodSeconds, double workSeconds, int count, int waitingBuffers, bool wantsRealTime, DurationHistogram lateness)
    {
        ProcessStartInfo start = new(
            program,
            [$"{periodSeconds * 1e9:0}", $"{workSeconds * 1e9:0}", $"{count}", wantsRealTime ? "1" : "0", $"{waitingBuffers}"])
        { RedirectStandardOutput = true };
        using Process process = Process.Start(start)!;
        List<Underrun> missed = [];
        while (process.StandardOutput.ReadLine() is { } line)
        {
            long[] nanoseconds = [.. line.Split(' ').Select(long.Parse)];
            lateness.Add(TicksOf(nanoseconds[0]));
            if (nanoseconds[3] >= 0)
            {
                missed.Add(new Underrun(TicksOf(nanoseconds[1]), TicksOf(nanoseconds[2]), TicksOf(nanoseconds[3])));
            }
        }

        return missed;
    }

    private static long TicksOf(long nanoseconds) => (long)(nanoseconds * (Stopwatch.Frequency / 1e9));
}
