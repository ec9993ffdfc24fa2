namespace LiveStems.Engine.Hosting;

/// <summary>Calls outside code with a limit to the time it may take.</summary>
public static class Bounded
{
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(50);

    /// <summary>Runs a function on a thread of its own.</summary>
    /// <param name="function">What to run; its exceptions come out here.</param>
    /// <param name="patience">How long it may take.</param>
    /// <param name="late">What to say when it takes longer; the thread is left alone then and dies with the program.</param>
    /// <param name="interruption">Ends the waiting.</param>
    /// <exception cref="HostingException">It took too long.</exception>
    /// <exception cref="OperationCanceledException">The waiting was interrupted.</exception>
    public static T Run<T>(Func<T> function, TimeSpan patience, string late, CancellationToken interruption = default)
    {
        T result = default!;
        System.Runtime.ExceptionServices.ExceptionDispatchInfo? thrown = null;
        Thread thread = new(() =>
        {
            try
            {
                result = function();
            }
            catch (Exception fault)
            {
                thrown = System.Runtime.ExceptionServices.ExceptionDispatchInfo.Capture(fault);
            }
        })
        {
            IsBackground = true,
            Name = "outside code",
        };
        thread.Start();
        RunningTime time = new();
        while (!thread.Join(Look))
        {
            interruption.ThrowIfCancellationRequested();
            if (time.Look() > patience)
            {
                throw new HostingException(late);
            }
        }

        thrown?.Throw();
        return result;
    }
}
