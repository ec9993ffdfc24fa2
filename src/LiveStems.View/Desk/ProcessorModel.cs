using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Engine.Planning;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>A processor in the chain that the desk works on.</summary>
public sealed class ProcessorModel
{
    private readonly AlbumDesk desk;
    private readonly ChainModel chain;
    private int index;
    private string? lastPassedBy;
    private IReadOnlyList<OutsideUse>? lastUses;

    internal ProcessorModel(AlbumDesk desk, ChainModel chain, ChainSlot slot)
    {
        this.desk = desk;
        this.chain = chain;
        Slot = KeptSettings.Read(slot, desk.Catalogue);
        Description = KeptSettings.DescriptionOf(slot, desk.Catalogue);
        Mix = new ValueField(
            $"{Id} mix", AlbumFields.MixPercent, () => Slot.MixPercent, (value, gesture) => Change(each => each with { MixPercent = value }, gesture));
        Parameters = [.. (Description?.Parameters ?? []).Select(Field)];
    }

    /// <summary>Id of the slot: unique in the chain.</summary>
    public string Id => Slot.Id;

    /// <summary>The record of the slot.</summary>
    public ChainSlot Slot { get; private set; }

    /// <summary>Its place: for taps, pictures and selection.</summary>
    public TapPlace Place => chain.Place with { Slot = Id };

    /// <summary>Place in the chain from 0.</summary>
    public int Index => index;

    /// <summary>What the processor is; null when it is not installed here, or does not understand its settings: then it has no parameters and the sound passes by.</summary>
    public ProcessorDescription? Description { get; }

    /// <summary>What a person reads: "Compressor", with its number when there are several.</summary>
    public string Name
    {
        get
        {
            string name = Description?.Name ?? Slot.Processor;
            int number = Id.LastIndexOf('-');
            return number > 0 && int.TryParse(Id[(number + 1)..], out int count) && Id[..number] == Slot.Processor ? $"{name} {count}" : name;
        }
    }

    /// <summary>One sentence: what an engineer reaches for it for.</summary>
    public string Purpose => Description?.Purpose ?? $"This processor {KeptSettings.FaultOf(Slot, desk.Catalogue)}; its settings are kept and the sound passes by.";

    /// <summary>True when the sound passes by because it is switched off.</summary>
    public bool IsBypassed => Slot.Bypassed;

    /// <summary>
    /// Why the sound passes by though it is switched on, to follow its name: "cannot be prepared (no room)"; null when it does
    /// not. Kept up to date by the chain, once a picture.
    /// </summary>
    public string? PassedBy { get; private set; }

    /// <summary>
    /// What it has done wrong since the album was opened, in the words of <c>play</c>: "1 fault, 512 frames without it; it has
    /// failed…"; null when nothing. Several of one kind in one chain are counted together.
    /// </summary>
    public string? Faults { get; private set; }

    /// <summary>True when this is the selected processor.</summary>
    public bool IsSelected => desk.Selection == Place;

    /// <summary>Processed share.</summary>
    public ValueField Mix { get; }

    /// <summary>The part of the stereo sound that it works on.</summary>
    public StereoScope Scope => Slot.Scope;

    /// <summary>The stem its detectors listen to; null for its own input.</summary>
    public string? KeyStem => Slot.KeyStem;

    /// <summary>True when a key of its own makes sense.</summary>
    public bool ListensToKey => Description?.ListensToKey ?? false;

    /// <summary>True when it is a processor of others, which can run in a process of its own.</summary>
    public bool CanRunApart => desk.Catalogue.CanRunApart(Slot.Processor);

    /// <summary>True when it runs in a process of its own: here because the album says so, or wherever it is used.</summary>
    public bool RunsApart => desk.Catalogue.RunsApart(Slot.Processor, Slot.OwnProcess);

    /// <summary>Lets it run in a process of its own here, or where the user lets it run everywhere else.</summary>
    public string? ToggleOwnProcess() => Change(slot => slot with { OwnProcess = !slot.OwnProcess });

    /// <summary>Why it is there, in the engineer's words.</summary>
    public string Reason => Slot.Reason;

    /// <summary>Its parameters, in order.</summary>
    public IReadOnlyList<ValueField> Parameters { get; }

    /// <summary>Gain reduction in dB, 0 or below; rises back as meters fall.</summary>
    public double ReductionDb { get; private set; }

    /// <summary>The deepest gain reduction since the look before, in dB: for the history of a picture.</summary>
    public double LatestReductionDb { get; private set; }

    /// <summary>
    /// What a band, counted from 0, adds to its own gain at present in dB: below 0 where it takes down, above where it raises;
    /// 0 where nothing moves it.
    /// </summary>
    public double BandActionDb(int band)
    {
        ReadOnlySpan<float> now = !IsBypassed && !chain.IsBypassed && Running is IBandReduction moving ? moving.LatestBandReductionDb() : [];
        return band < now.Length ? now[band] : 0;
    }

    /// <summary>True once its gain has been reduced, since the album was opened.</summary>
    public bool HasReduced => desk.Slots.HasReduced(Place);

    /// <summary>The running processor, to read what it publishes; null while it does not run.</summary>
    public Processor? Running => desk.Player.Running(Place);

    /// <summary>A parameter by its id, or null.</summary>
    public ValueField? Parameter(string id) =>
        Description?.IndexOf(id) is { } at and >= 0 ? Parameters[at] : null;

    /// <summary>In or out.</summary>
    public string? ToggleBypass() => Change(slot => slot with { Bypassed = !slot.Bypassed });

    /// <summary>Stereo, mid, side.</summary>
    public string? SetScope(StereoScope scope) => Change(slot => slot with { Scope = scope });

    /// <summary>Lets its detectors listen to a stem, by name; null for its own input.</summary>
    public string? SetKey(string? stem) => Change(slot => slot with { KeyStem = stem });

    /// <summary>Says why it is there.</summary>
    public string? SetReason(string words) => Change(slot => slot with { Reason = words.Trim() });

    /// <summary>Every parameter back to its default.</summary>
    public string? Reset() => Change(slot => slot with { Parameters = slot.Parameters.Clear(), MixPercent = AlbumFields.MixPercent.Spec.Default });

    /// <summary>Sets several parameters in one step that is undone as one, such as both edges of a bracket being dragged.</summary>
    public string? SetTogether(IEnumerable<KeyValuePair<string, double>> values, string? gesture = null) => Change(
        slot => slot with
        {
            Parameters = values.Aggregate(slot.Parameters, (all, pair) =>
                Description?.IndexOf(pair.Key) is { } at and >= 0 ? all.SetItem(pair.Key, Description.Parameters[at].Clamp(pair.Value)) : all),
        },
        gesture);

    /// <summary>Takes it out of the chain.</summary>
    public string? Remove() => chain.Change(each => each with { Slots = each.Slots.RemoveAll(slot => slot.Id == Id) });

    /// <summary>Moves it to a place in the chain from 0.</summary>
    public string? MoveTo(int target)
    {
        int inside = Math.Clamp(target, 0, chain.Processors.Count - 1);
        return chain.Change(each => each with { Slots = each.Slots.RemoveAt(index).Insert(inside, each.Slots[index]) });
    }

    /// <summary>Selects it.</summary>
    public void Select() => desk.Select(Place);

    internal void Refresh(ChainSlot slot, int place)
    {
        Slot = KeptSettings.Read(slot, desk.Catalogue);
        index = place;
    }

    internal void UpdateMeters(double seconds)
    {
        string? now = IsBypassed || chain.IsBypassed ? null : desk.Player.PassedBy(Place);
        if (!ReferenceEquals(now, lastPassedBy))
        {
            lastPassedBy = now;
            PassedBy = now is null ? null : PlainText.Of(now);
        }

        if (!ReferenceEquals(desk.OutsideUses, lastUses))
        {
            lastUses = desk.OutsideUses;
            Faults = FaultsIn(lastUses);
        }

        LatestReductionDb = desk.Slots.LatestDb(Place);
        ReductionDb = Math.Min(LatestReductionDb, Math.Min(0, ReductionDb + FallingPeak.FallDbPerSecond * seconds));
    }

    internal string? Change(Func<ChainSlot, ChainSlot> change, string? gesture = null) => chain.Change(
        each =>
        {
            int at = each.Slots.ToList().FindIndex(slot => slot.Id == Id);
            return at < 0 ? each : each with { Slots = each.Slots.SetItem(at, change(KeptSettings.Read(each.Slots[at], desk.Catalogue))) };
        },
        gesture);

    private string? FaultsIn(IReadOnlyList<OutsideUse> uses)
    {
        if (uses.Count == 0)
        {
            return null;
        }

        (string song, string place) = (desk.Song.Title, chain.Name);
        OutsideUse[] own = [.. uses.Where(use => use.Processor == Slot.Processor && use.Song == song && use.Place == place && use.Faults > 0)];
        OutsideUse? all = own.Length == 0 ? null : own[^1] with { Faults = own.Sum(use => use.Faults), FramesLost = own.Sum(use => use.FramesLost) };
        return all?.FaultWords;
    }

    private ValueField Field(ParameterSpec spec) => new(
        $"{Id} {spec.Id}",
        spec,
        () => Slot.Parameters.GetValueOrDefault(spec.Id, spec.Default),
        (value, gesture) => Change(slot => slot with { Parameters = slot.Parameters.SetItem(spec.Id, value) }, gesture));
}
