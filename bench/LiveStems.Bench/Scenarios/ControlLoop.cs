using LiveStems.Engine.Devices;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// A bare C loop with the same period and the same work as the player: what the machine itself does to anyone's deadlines.
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
            long long period = atoll(argv[1]), work = atoll(argv[2]); int count = atoi(argv[3]), missed = 0;
            struct sched_param p = { .sched_priority = 50 };
            if (atoi(argv[4])) sched_setscheduler(0, SCHED_FIFO, &p);
            long long *late = malloc(sizeof *late * count), due = now() + period;
            for (int i = 0; i < count; i++, due += period) {
                struct timespec t = { due / 1000000000LL, due % 1000000000LL };
                clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &t, NULL);
                long long start = now();
                late[i] = start - due;
                while (now() - start < work) { }
                if (now() > due + period) missed++;
            }
            printf("%d\n", missed);
            for (int i = 0; i < count; i++) printf("%lld\n", late[i]);
        }
        """;

    /// <summary>Compiles the loop into a folder with the system's C compiler.</summary>
    public static string Build(string folder)
    {
        string source = Path.Combine(folder, "control.c");
        string program = Path.Combine(folder, "control");
        File.WriteAllText(source, Source);
        using System.Diagnostics.Process compiler = System.Diagnostics.Process.Start("cc", ["-O2", "-o", program, source]);
        compiler.WaitForExit();
        return compiler.ExitCode == 0 ? program : throw new InvalidOperationException("no C compiler: install gcc for the control loop");
    }

    /// <summary>Runs so many periods with so much work in each, adds how late each began and returns how many were missed.</summary>
    public static long Run(string program, double periodSeconds, double workSeconds, int count, bool wantsRealTime, DurationHistogram lateness)
    {
        System.Diagnostics.ProcessStartInfo start = new(
            program, [$"{periodSeconds * 1e9:0}", $"{workSeconds * 1e9:0}", $"{count}", wantsRealTime ? "1" : "0"]) { RedirectStandardOutput = true };
        using System.Diagnostics.Process process = System.Diagnostics.Process.Start(start)!;
        long missed = long.Parse(process.StandardOutput.ReadLine()!);
        while (process.StandardOutput.ReadLine() is { } nanoseconds)
        {
            lateness.Add(long.Parse(nanoseconds) * System.Diagnostics.Stopwatch.Frequency / 1_000_000_000);
        }

        return missed;
    }
}
