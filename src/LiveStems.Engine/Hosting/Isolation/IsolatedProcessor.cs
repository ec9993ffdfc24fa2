using LiveStems.Engine.Devices;
using LiveStems.Engine.Devices.Native;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>
/// Stands in a chain for a processor that runs in a process of its own. Live it never waits: what is handed over comes back
/// after some blocks (<see cref="RoundTripFrames"/>), which are part of its latency. Offline it waits, and its latency is the
/// processor's own.
/// </summary>
internal sealed class IsolatedProcessor : Processor, IDisposable
{
    private const int LooksBeforeNap = 2000;
    private const int NapMicroseconds = 20;

    private readonly IsolatedAssembly assembly;
    private readonly double[] values;
    private RemoteLine? line;
    private RemoteVoice? voice;
    private int number;

    public IsolatedProcessor(ProcessorDescription description, IsolatedAssembly assembly)
        : base(description)
    {
        this.assembly = assembly;
        values = new double[description.Parameters.Count];
    }

    // Not on the thread of finalizers: nothing is to wait there.
    ~IsolatedProcessor() => ThreadPool.QueueUserWorkItem(each => each.Assembly.Close(each.Number), (Assembly: assembly, Number: number), preferLocal: false);

    /// <summary>
    /// Frames after which what was handed over is taken back where nobody may wait: a block, and what a device asks for at
    /// once, block upon block, when it was kept waiting for as long as it can bear.
    /// </summary>
    public static int RoundTripFrames(ProcessingFormat format) =>
        format.MaximumFrames + Math.Min(DeviceSettings.MostWaitingBuffers * format.MaximumFrames, (int)(DeviceSettings.UsualWaitingSeconds * format.SampleRate));

    /// <summary>Before it is prepared: true when nobody may wait for it.</summary>
    public bool IsLive { get; set; }

    /// <inheritdoc/>
    public override int LatencyFrames => voice?.LatencyFrames ?? 0;

    /// <inheritdoc/>
    public override float GainReductionDb => voice?.ReductionDb ?? 0;

    /// <summary>What the processor has done there for which it is passed by.</summary>
    public ProcessorFault Fault => line is { } now ? (ProcessorFault)Volatile.Read(ref now.Memory.Fault) : ProcessorFault.None;

    /// <summary>Frames for which the dry sound stood in since it was reset.</summary>
    public long LostFrames => voice?.LostFrames ?? 0;

    /// <summary>Times that the dry sound stood in since it was reset.</summary>
    public long Lapses => voice?.Lapses ?? 0;

    /// <summary>True while the dry sound stands in.</summary>
    public bool IsAway => voice?.IsAway ?? false;

    /// <summary>
    /// Times that its process has ended, why it did the last time, whether it is not started any more, and why it could not be
    /// where that is the reason.
    /// </summary>
    public (int Times, string? Cause, bool IsGivenUp, string? Obstacle) Deaths => line is { } now ? (now.Deaths, now.LastCause, now.IsGivenUp, now.Obstacle) : default;

    /// <summary>Number of the process that serves it, for tests and messages; null when there is none.</summary>
    public int? ProcessId => assembly.ProcessId;

    /// <summary>Once it is prepared: the dry sound, aligned with what comes out, that its step keeps anyway.</summary>
    public void TakeDryFrom(StereoBuffer aligned) => voice!.TakeDryFrom(aligned);

    /// <summary>Lets its line go. It may not be used any more.</summary>
    public void Dispose()
    {
        assembly.Close(number);
        line = null;
        voice = null;
        GC.SuppressFinalize(this);
    }

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        assembly.Close(number);
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = GetParameter(i);
        }

        // Not this object: it could never be let go.
        double[] kept = values;
        Func<double>[] readers = [.. Enumerable.Range(0, kept.Length).Select(index => (Func<double>)(() => Volatile.Read(ref kept[index])))];
        (line, number, int latency) = assembly.Open(Description.Id, Format, readers, Description.ListensToKey, IsLive);
        voice = new RemoteVoice(line.Memory, values.Length, Format, IsLive ? RoundTripFrames(Format) : 0, latency);
        line.Serve(voice);
    }

    /// <inheritdoc/>
    protected override void OnReset() => voice!.Reset();

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
    }

    /// <inheritdoc/>
    protected override void OnBlockStart()
    {
        voice!.BeginBlock();
        for (int i = 0; i < values.Length; i++)
        {
            Volatile.Write(ref values[i], GetParameter(i));
        }
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        bool isHandedOver = voice!.HandOver(segment, this);
        if (!IsLive)
        {
            WaitForIt(isHandedOver);
        }

        voice.TakeBack(segment, isHandedOver);
    }

    // Rendering, where nothing may be lost: who is not there ends the render.
    private void WaitForIt(bool isHandedOver)
    {
        RemoteLine there = line!;
        for (int look = 0; !isHandedOver || Volatile.Read(ref there.Memory.Processed) < there.Memory.Written; look++)
        {
            if (there.Ended is not null || !isHandedOver)
            {
                string cause = there.Ended ?? "it takes no sound";
                throw new HostingException($"{Description.Id}: its process has ended ({cause}); without it the sound would be another: take it out, or refuse it, and begin again");
            }

            if (look < LooksBeforeNap)
            {
                Thread.SpinWait(10);
            }
            else
            {
                ShortSleep.For(NapMicroseconds);
            }
        }
    }
}
