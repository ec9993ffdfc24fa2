using System.Diagnostics.CodeAnalysis;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// Calls a processor of others on a thread of its own, for callers that may wait but not for ever: renders, and the run of a
/// plan before it is heard.
/// </summary>
/// <remarks>The thread ends when it has had nothing to do for a while, so that the code can be let go.</remarks>
internal sealed class BoundedCalls(Processor processor)
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(50);
    private static readonly TimeSpan Idle = TimeSpan.FromSeconds(0.2);

    private readonly object gate = new();
    private ForeignMemory? memory;
    private int frames;
    private bool hasKey;
    private bool isAsked;
    private bool isDone;
    private bool hasThreadRunning;
    private bool hasThrown;
    private bool isLost;

    /// <summary>Gain reduction of the block that was processed last, in dB.</summary>
    public float ReductionDb { get; private set; }

    /// <summary>Processes a block; false when it does not come to an end, and then it is never called again.</summary>
    public bool TryProcess(ForeignMemory sound, int length, bool withKey, TimeSpan patience, out bool threw)
    {
        memory = sound;
        frames = length;
        hasKey = withKey;
        return TryCall(patience, out threw);
    }

    /// <summary>Sets it back; false when it does not come to an end, and then it is never called again.</summary>
    public bool TryReset(TimeSpan patience, out bool threw)
    {
        memory = null;
        return TryCall(patience, out threw);
    }

    /// <summary>Ends a render.</summary>
    [DoesNotReturn]
    public static void EndRender(Processor culprit) => throw new HostingException(
        $"{culprit.Description.Id} does not come to an end; nothing was rendered: bypass it, or 'livestems processors --refuse {culprit.Description.Id}', and begin again");

    private bool TryCall(TimeSpan patience, out bool threw)
    {
        lock (gate)
        {
            threw = false;
            if (isLost)
            {
                return false;
            }

            isAsked = true;
            isDone = false;
            if (!hasThreadRunning)
            {
                hasThreadRunning = true;
                new Thread(Serve) { IsBackground = true, Name = "outside processor" }.Start();
            }

            System.Threading.Monitor.PulseAll(gate);
            RunningTime time = new();
            while (!isDone && !isLost)
            {
                isLost = !System.Threading.Monitor.Wait(gate, BetweenLooks) && !isDone && time.Look() > patience;
            }

            threw = hasThrown;
            return !isLost;
        }
    }

    private void Serve()
    {
        lock (gate)
        {
            while (!isLost)
            {
                if (!isAsked && !System.Threading.Monitor.Wait(gate, Idle) && !isAsked)
                {
                    break;
                }

                if (isAsked)
                {
                    isAsked = false;
                    System.Threading.Monitor.Exit(gate);
                    bool threw = !Call();
                    System.Threading.Monitor.Enter(gate);
                    hasThrown = threw;
                    isDone = true;
                    System.Threading.Monitor.PulseAll(gate);
                }
            }

            hasThreadRunning = false;
        }
    }

    private bool Call()
    {
        try
        {
            if (memory is null)
            {
                processor.Reset();
            }
            else
            {
                processor.Process(memory.Block(frames, hasKey));
                ReductionDb = processor.GainReductionDb;
            }

            return true;
        }
        catch (Exception)
        {
            return false;
        }
    }
}
