using System.Collections.Concurrent;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>
/// Orders as they come in, read by a thread of its own: so their end is noticed whatever code of others is busy with, and the
/// pipe that they come through is never full.
/// </summary>
internal sealed class OrderQueue
{
    private readonly BlockingCollection<string> waiting = [];

    /// <param name="orders">One a line.</param>
    /// <param name="ended">Called on that thread when there are no more.</param>
    public OrderQueue(TextReader orders, Action ended) =>
        new Thread(() => Read(orders, ended)) { IsBackground = true, Name = "orders" }.Start();

    /// <summary>Waits for the next order; null when there are no more.</summary>
    public string? Next() => waiting.TryTake(out string? order, Timeout.Infinite) ? order : null;

    private void Read(TextReader orders, Action ended)
    {
        while (Line(orders) is { } order)
        {
            waiting.Add(order);
        }

        waiting.CompleteAdding();
        ended();
    }

    // A pipe that breaks has ended, too.
    private static string? Line(TextReader orders)
    {
        try
        {
            return orders.ReadLine();
        }
        catch (Exception fault) when (fault is IOException or ObjectDisposedException)
        {
            return null;
        }
    }
}
