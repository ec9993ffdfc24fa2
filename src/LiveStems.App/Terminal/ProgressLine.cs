using System.Diagnostics;

namespace LiveStems.App.Terminal;

/// <summary>
/// One line on the terminal that says what is being done, how far it is and how long it will still take. Silent when
/// standard error is not a terminal.
/// </summary>
internal sealed class ProgressLine : IDisposable
{
    private static readonly TimeSpan BetweenUpdates = TimeSpan.FromMilliseconds(100);

    private readonly Lock gate = new();
    private readonly bool isVisible = !Console.IsErrorRedirected;
    private readonly Stopwatch running = Stopwatch.StartNew();
    private TimeSpan lastUpdate = -BetweenUpdates;
    private int shownLength;

    /// <summary>Shows how far it has come, 0 to 1.</summary>
    public void Report(string doing, double share)
    {
        if (!isVisible)
        {
            return;
        }

        lock (gate)
        {
            TimeSpan now = running.Elapsed;
            if (now - lastUpdate < BetweenUpdates)
            {
                return;
            }

            lastUpdate = now;
            Show($"{doing}  {share * 100:0} %{TimeLeft(now, share)}");
        }
    }

    /// <summary>Takes the line away again.</summary>
    public void Dispose()
    {
        if (isVisible && shownLength > 0)
        {
            Show(string.Empty);
            Console.Error.Write('\r');
        }
    }

    private static string TimeLeft(TimeSpan elapsed, double share)
    {
        if (share < 0.02 || elapsed.TotalSeconds < 0.5)
        {
            return string.Empty;
        }

        double seconds = Math.Ceiling(elapsed.TotalSeconds * (1 - share) / share);
        return seconds >= 90 ? $"  {seconds / 60:0} min left" : $"  {seconds:0} s left";
    }

    private void Show(string text)
    {
        Console.Error.Write('\r' + text.PadRight(shownLength));
        shownLength = text.Length;
    }
}
