using System.Diagnostics;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// Shares the same pieces of work among threads over and over: what took longest so far is begun first, so that the threads
/// end together (longest processing time first; Graham 1969, "Bounds on multiprocessing timing anomalies").
/// </summary>
/// <param name="count">Pieces of work.</param>
/// <param name="how">Threads that share it, and the way to stop.</param>
internal sealed class WorkShare(int count, ParallelOptions how)
{
    private const int RoundsAnOrder = 64;

    private readonly int[] order = [.. Enumerable.Range(0, count)];
    private readonly long[] spent = new long[count];
    private int rounds;

    /// <summary>Does all pieces once, by their numbers, and returns when all are done.</summary>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public void Run(Action<int> work)
    {
        if (rounds++ % RoundsAnOrder == 1)
        {
            Array.Sort(order, (one, other) => spent[other].CompareTo(spent[one]));
        }

        // One at a time: which thread takes which is left to how long they need.
        int next = -1;
        System.Threading.Tasks.Parallel.For(0, Math.Min(count, how.MaxDegreeOfParallelism), how, _ =>
        {
            for (int i = Interlocked.Increment(ref next); i < count; i = Interlocked.Increment(ref next))
            {
                long begun = Stopwatch.GetTimestamp();
                work(order[i]);
                spent[order[i]] += Stopwatch.GetTimestamp() - begun;
            }
        });
    }
}
