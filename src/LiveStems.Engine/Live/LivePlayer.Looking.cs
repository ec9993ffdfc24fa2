using LiveStems.Dsp;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <content>What can be looked at while a song plays. Nothing here makes the audio thread wait.</content>
public sealed partial class LivePlayer
{
    private TapPlace tapped = TapPlace.Bus;
    private ChainTaps? tappedEnds;

    /// <summary>What to show now; peaks start afresh.</summary>
    public PlayerState Look()
    {
        LoadedSong? loaded = arriving ?? playing;
        (float left, float right) = renderer.Meters.TakePeaks();
        return new PlayerState(
            Song?.Title,
            loaded?.ShouldPlay ?? playsOnArrival,
            HeardSeconds,
            loaded is null ? 0 : (double)loaded.Plan.Sources.Frames / SampleRate - (IsAsOnAlbum ? loaded.Request.Song.Edges.TrimEndSeconds : 0),
            renderer.Meters.MomentaryLufs,
            renderer.Meters.ShortTermLufs,
            Decibels.FromAmplitude(left),
            Decibels.FromAmplitude(right),
            loaded?.MissedFrames ?? 0,
            Device.Statistics)
        {
            HeardSong = Heard?.Request.Song.Title,
            LoadLevel = renderer.Governor.Level,
            LoadDrops = (renderer.Governor.Entries(LoadLevel.WithoutMeters), renderer.Governor.Entries(LoadLevel.WithoutViews), renderer.Governor.Entries(LoadLevel.Faded)),
            LateStems = loaded?.LateStems ?? [],
            SafetyReductionDb = renderer.Monitor.HeldSafetyReductionDb,
            NonFiniteSamples = renderer.Monitor.NonFiniteSamples,
            HasFollowing = wantedFollowing is not null,
        };
    }

    /// <summary>The sound at a few places, for analysing threads.</summary>
    public LiveTaps Taps => renderer.Taps;

    /// <summary>Counted up whenever what is looked at is another: another plan plays, or another place was chosen.</summary>
    public int PlanNumber { get; private set; }

    /// <summary>Chooses what <see cref="LiveTaps.Input"/> and <see cref="LiveTaps.Output"/> show; it stays chosen when the song changes.</summary>
    public void Tap(TapPlace place)
    {
        tapped = place;
        PutTaps();
    }

    /// <summary>The largest samples before a chain or processor since the last call; 0 where there is no such thing.</summary>
    public (float Left, float Right) TakeInputPeaks(TapPlace place) => Ends(place)?.Input.TakePeaks() ?? default;

    /// <summary>The largest samples after a chain or processor since the last call, before gain and pan; 0 where there is no such thing.</summary>
    public (float Left, float Right) TakeOutputPeaks(TapPlace place) => Ends(place)?.Output.TakePeaks() ?? default;

    /// <summary>The deepest gain reduction of a processor since the last call in dB, 0 or below; 0 where there is none.</summary>
    public float TakeReductionDb(TapPlace place) => Find(place)?.Step?.TakeReductionDb() ?? 0;

    /// <summary>
    /// The running processor at a place, to read what it publishes for one other thread; null where there is none, or where
    /// code of others would run in the reader's thread, which it could hold for ever. Only the player may change it.
    /// </summary>
    public Processor? Running(TapPlace place) =>
        Find(place)?.Step?.Processor is { } processor && !GuardedProcessor.IsForeign(processor) ? processor : null;

    private void PutTaps()
    {
        PlanNumber++;
        if (tappedEnds is { } before)
        {
            before.Input.Tap = null;
            before.Output.Tap = null;
        }

        tappedEnds = Ends(tapped) ?? Ends(tapped.Chain);
        if (tappedEnds is { } ends)
        {
            ends.Input.Tap = Taps.Input;
            ends.Output.Tap = Taps.Output;
        }
    }

    private ChainTaps? Ends(TapPlace place)
    {
        if (place.Slot is not null)
        {
            return Find(place)?.Taps;
        }

        return place.IsBus ? playing?.Plan.BusTaps : place.Parallel >= 0 ? ParallelAt(place)?.Taps : StemAt(place)?.Taps;
    }

    private PlannedSlot? Find(TapPlace place)
    {
        IReadOnlyList<PlannedSlot>? slots = place.IsBus ? playing?.Plan.BusSlots
            : place.Parallel >= 0 ? ParallelAt(place)?.Slots
            : StemAt(place)?.Slots;
        for (int i = 0; i < slots?.Count; i++)
        {
            if (slots[i].Slot.Id == place.Slot)
            {
                return slots[i];
            }
        }

        return null;
    }

    private StemPath? StemAt(TapPlace place) =>
        playing is { } now && place.Stem < now.Plan.Stems.Count ? now.Plan.Stems[place.Stem] : null;

    private ParallelPath? ParallelAt(TapPlace place) =>
        StemAt(place) is { } stem && place.Parallel < stem.Parallels.Count ? stem.Parallels[place.Parallel] : null;
}
