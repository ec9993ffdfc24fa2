using System.Runtime.InteropServices;

namespace LiveStems.App.Terminal;

/// <summary>
/// Makes an end by the system (SIGTERM, a terminal that goes away) one like Ctrl-C: the verb ends by itself and keeps what it
/// has.
/// </summary>
internal sealed class EndingSignals : IDisposable
{
    private readonly CancellationTokenSource ending;
    private readonly PosixSignalRegistration hangUp;
    private readonly PosixSignalRegistration termination;
    private volatile bool hasHungUp;

    /// <param name="interruption">Ends it too.</param>
    public EndingSignals(CancellationToken interruption)
    {
        ending = CancellationTokenSource.CreateLinkedTokenSource(interruption);
        hangUp = PosixSignalRegistration.Create(PosixSignal.SIGHUP, End);
        termination = PosixSignalRegistration.Create(PosixSignal.SIGTERM, End);
    }

    /// <summary>Cancelled once it is time to end.</summary>
    public CancellationToken Token => ending.Token;

    /// <summary>True once the terminal has gone.</summary>
    public bool HasHungUp => hasHungUp;

    public void Dispose()
    {
        hangUp.Dispose();
        termination.Dispose();
        ending.Dispose();
    }

    private void End(PosixSignalContext context)
    {
        context.Cancel = true;
        hasHungUp |= context.Signal == PosixSignal.SIGHUP;
        ending.Cancel();
    }
}
