using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>
/// What the selected processor does, measured by the probe once its values stand still: any processor, of others too. It is
/// measured on another thread, where code of others can hold up nothing but itself.
/// </summary>
public sealed class ProbeModel : IDisposable
{
    private const double QuietSeconds = 0.3;

    private readonly AlbumDesk desk;
    private readonly Stopwatch sinceChange = Stopwatch.StartNew();
    private readonly Dictionary<string, string> givenUp = new(StringComparer.Ordinal);
    private ProcessorCatalogue? catalogue;
    private Task<MeasuredProcessor>? measuring;
    private CancellationTokenSource? ending;
    private ProcessorModel? of;
    private ChainSlot? wanted;
    private ChainSlot? asked;

    // Whatever is selected meanwhile: what comes of it is about this one.
    private (ChainSlot Slot, ProcessorCatalogue From)? underWay;

    internal ProbeModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>Counts up whenever anything was measured, or what was known is of another processor.</summary>
    public long Revision { get; private set; }

    /// <summary>What is known of the selected processor; null while nothing is.</summary>
    public MeasuredProcessor? Known { get; private set; }

    /// <summary>Why the selected processor could not be measured; empty while all is well.</summary>
    public string Fault { get; private set; } = string.Empty;

    /// <summary>True for a processor that can be measured: one that is here and understands its settings.</summary>
    public static bool IsFor(ProcessorModel processor) => processor.Description is not null;

    /// <summary>Nothing is measured any more.</summary>
    public void Dispose()
    {
        ending?.Cancel();
        ending?.Dispose();
        ending = null;
    }

    internal void Update()
    {
        TakeResult();
        Follow(desk.Chain.Selected is { } selected && IsFor(selected) ? selected : null);
        if (wanted is not { } slot || ReferenceEquals(asked, slot) || measuring is not null || sinceChange.Elapsed.TotalSeconds <= QuietSeconds)
        {
            return;
        }

        asked = slot;
        if (givenUp.TryGetValue(slot.Processor, out string? known))
        {
            Say(known);
            return;
        }

        int sampleRate = desk.Player.SampleRate;
        ProcessorCatalogue from = desk.Catalogue;
        ending = new CancellationTokenSource();
        CancellationToken cancellation = ending.Token;
        underWay = (slot, from);
        measuring = desk.Jobs.Beside(() => MeasuredProcessor.Measure(slot, sampleRate, from, cancellation));
    }

    private void TakeResult()
    {
        if (measuring is not { IsCompleted: true } done)
        {
            return;
        }

        (ChainSlot slot, ProcessorCatalogue from) = underWay!.Value;
        measuring = null;
        underWay = null;
        ending?.Dispose();
        ending = null;
        Exception? fault = done.Exception?.InnerException;
        if (fault is HostingException && ReferenceEquals(from, catalogue))
        {
            // Another try would leave another thread inside it.
            givenUp[slot.Processor] = fault.Message;
        }

        if (fault is OperationCanceledException)
        {
            asked = null;
        }

        if (asked is null || !ReferenceEquals(asked, wanted))
        {
            return;
        }

        if (done.IsCompletedSuccessfully)
        {
            Known = done.Result;
            Fault = string.Empty;
            Revision++;
        }
        else if (fault is not null)
        {
            Say(fault.Message);
        }
    }

    private void Say(string fault)
    {
        Known = null;
        Fault = fault;
        Revision++;
    }

    private void Follow(ProcessorModel? selected)
    {
        if (!ReferenceEquals(catalogue, desk.Catalogue))
        {
            catalogue = desk.Catalogue;
            givenUp.Clear();
            asked = null;
        }

        // Ids of slots are unique in their chain only, and chains that were copied share their slots.
        bool isAnother = !ReferenceEquals(selected, of);
        ChainSlot? now = selected?.Slot;
        if (isAnother)
        {
            of = selected;
            asked = null;
            Known = null;
            Fault = string.Empty;
            Revision++;
        }
        else if (ReferenceEquals(now, wanted))
        {
            return;
        }

        wanted = now;
        ending?.Cancel();
        sinceChange.Restart();
    }
}
