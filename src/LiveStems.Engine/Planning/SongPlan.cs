using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;

namespace LiveStems.Engine.Planning;

/// <summary>A compiled song with its open files; dispose of it to close them.</summary>
public sealed class SongPlan : IDisposable
{
    internal SongPlan(
        Song song,
        int sampleRate,
        Plan plan,
        IReadOnlyList<StemPump> pumps,
        IReadOnlyList<StemPath> stems,
        IReadOnlyList<PlannedSlot> busSlots,
        IReadOnlyList<string> remarks)
    {
        Song = song;
        SampleRate = sampleRate;
        Plan = plan;
        Pumps = pumps;
        Stems = stems;
        BusSlots = busSlots;
        Remarks = remarks;
        Head = new PlayHead(PlanTiming.RampFrames(sampleRate));
        Frames = pumps.Count == 0 ? 0 : pumps.Max(pump => pump.EndFrame);
    }

    /// <summary>What was compiled.</summary>
    public Song Song { get; }

    /// <summary>Frames per second the plan runs at.</summary>
    public int SampleRate { get; }

    /// <summary>Frames from the start of the song to the end of its longest stem.</summary>
    public long Frames { get; }

    /// <summary>Frames between the stems and the master, compensated everywhere.</summary>
    public int LatencyFrames => Plan.LatencyFrames;

    /// <summary>What the listener should know: processors that are not here, stems whose rate is converted.</summary>
    public IReadOnlyList<string> Remarks { get; }

    internal PlayHead Head { get; }

    internal Plan Plan { get; }

    internal IReadOnlyList<StemPump> Pumps { get; }

    internal IReadOnlyList<StemPath> Stems { get; }

    internal IReadOnlyList<PlannedSlot> BusSlots { get; }

    /// <summary>Closes the stems.</summary>
    public void Dispose()
    {
        foreach (StemPump pump in Pumps)
        {
            pump.Dispose();
        }
    }
}
