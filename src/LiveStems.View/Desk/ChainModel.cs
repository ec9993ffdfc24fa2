using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>The chain that the desk works on: the one of the selected stem, parallel or song bus.</summary>
public sealed class ChainModel
{
    private readonly AlbumDesk desk;
    private readonly Dictionary<string, ProcessorModel> known = new(StringComparer.Ordinal);
    private List<ProcessorModel> processors = [];
    private Chain? shown;
    private TapPlace place = TapPlace.Bus;
    private int song = -1;
    private ProcessorCatalogue? catalogue;

    internal ChainModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>The chain's place in the song.</summary>
    public TapPlace Place => place;

    /// <summary>"song bus", "Bass", "Bass, Crush".</summary>
    public string Name => ChainPlace.NameOf(desk.Song, place);

    /// <summary>The record of the chain.</summary>
    public Chain Chain => ChainPlace.Find(desk.Song, place) ?? Chain.Empty;

    /// <summary>True when the sound passes by the whole chain.</summary>
    public bool IsBypassed => Chain.Bypassed;

    /// <summary>The processors in order; each object stays the same while its processor is in the chain.</summary>
    public IReadOnlyList<ProcessorModel> Processors => processors;

    /// <summary>The processor that is selected, or null.</summary>
    public ProcessorModel? Selected => processors.Find(processor => processor.Id == desk.Selection.Slot);

    /// <summary>Every kind of processor that can be added.</summary>
    public IEnumerable<ProcessorDescription> Kinds => desk.Catalogue.Descriptions;

    /// <summary>The whole chain in or out.</summary>
    public string? ToggleBypass() => Change(chain => chain with { Bypassed = !chain.Bypassed });

    /// <summary>Adds a processor, every parameter at its default, and selects it; at the end (<see cref="ChainEnd"/>), or at a place from 0. Null, or what is wrong.</summary>
    public string? Add(string processor, int? index = null)
    {
        int at = index ?? ChainEnd.Of(Chain, place.IsBus);
        string? fault = desk.Edit(album => AlbumEdits.AddProcessor(album, Address, processor, desk.Catalogue, at + 1));
        if (fault is null && at < processors.Count)
        {
            processors[at].Select();
        }

        return fault;
    }

    /// <summary>Adds the processors of a preset at the end (<see cref="ChainEnd"/>). Null, or what is wrong.</summary>
    public string? AddPreset(ChainPreset preset)
    {
        string? fault = desk.Edit(album => preset.AddTo(album, Address, desk.Catalogue));
        foreach (string remark in fault is null ? preset.Remarks(desk.Catalogue) : [])
        {
            desk.Say(MessageKind.Remark, remark);
        }

        return fault;
    }

    /// <summary>Takes every processor out.</summary>
    public string? Clear() => Change(chain => chain with { Slots = [] });

    /// <summary>Address of the chain in the album, as commands write it.</summary>
    public string Address => AddressOf(desk, place);

    internal static string AddressOf(AlbumDesk desk, TapPlace place)
    {
        string song = $"{desk.SongIndex + 1}";
        return place.IsBus ? $"{song}/bus"
            : place.Parallel < 0 ? $"{song}/{place.Stem + 1}"
            : $"{song}/{place.Stem + 1}/parallel:{place.Parallel + 1}";
    }

    internal string? Change(Func<Chain, Chain> change, string? gesture = null) =>
        desk.EditSong(each => ChainPlace.Find(each, place) is { } chain ? ChainPlace.With(each, place, change(chain)) : each, gesture);

    internal void Refresh()
    {
        if (desk.Selection.Chain != place || desk.SongIndex != song || desk.Catalogue != catalogue)
        {
            catalogue = desk.Catalogue;
            known.Clear();
            shown = null;
            place = desk.Selection.Chain;
            song = desk.SongIndex;
        }

        if (ReferenceEquals(shown, Chain))
        {
            return;
        }

        shown = Chain;
        processors = [.. shown.Slots.Select(Model)];
        foreach (string gone in known.Keys.Except(processors.Select(processor => processor.Id)).ToArray())
        {
            known.Remove(gone);
        }
    }

    internal void UpdateMeters(double seconds) => processors.ForEach(processor => processor.UpdateMeters(seconds));

    private ProcessorModel Model(ChainSlot slot, int index)
    {
        if (!known.TryGetValue(slot.Id, out ProcessorModel? model) || model.Slot.Processor != slot.Processor)
        {
            known[slot.Id] = model = new ProcessorModel(desk, this, slot);
        }

        model.Refresh(slot, index);
        return model;
    }
}
