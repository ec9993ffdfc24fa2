using LiveStems.Albums.Model;
using LiveStems.Dsp;
using LiveStems.Engine.Live;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.View.Desk;

/// <summary>A stem as the desk shows it; stays the same object while the song has a stem at this index.</summary>
public sealed class StemRow
{
    private readonly AlbumDesk desk;
    private readonly List<ParallelRow> parallels = [];

    internal StemRow(AlbumDesk desk, int index)
    {
        this.desk = desk;
        Index = index;
        Gain = PlacementField(AlbumFields.GainDb, "gain", placement => placement.GainDb, (placement, value) => placement with { GainDb = value });
        Pan = PlacementField(AlbumFields.Pan, "pan", placement => placement.Pan, (placement, value) => placement with { Pan = value });
        Delay = PlacementField(AlbumFields.DelayFrames, "delay", placement => placement.DelayFrames, (placement, value) => placement with { DelayFrames = (int)value });
        Meter = new PathMeter(desk.Player, desk.Slots, TapPlace.OfStem(index));
    }

    /// <summary>Index in the song.</summary>
    public int Index { get; }

    /// <summary>The whole chain of the stem, as a place.</summary>
    public TapPlace Place => TapPlace.OfStem(Index);

    /// <summary>The record of the stem.</summary>
    public Stem Stem => desk.Song.Stems[Index];

    /// <summary>Its name.</summary>
    public string Name => Stem.Name;

    /// <summary>What it plays.</summary>
    public StemRole Role => Stem.Role;

    /// <summary>"lead-vocal", "drums", …</summary>
    public string RoleWord => AlbumWords.Role[Role];

    /// <summary>Level after the chain.</summary>
    public ValueField Gain { get; }

    /// <summary>Position after the chain.</summary>
    public ValueField Pan { get; }

    /// <summary>Delay before the chain.</summary>
    public ValueField Delay { get; }

    /// <summary>Which sides are turned over.</summary>
    public Polarity Polarity => Stem.Placement.Polarity;

    /// <summary>True when the stem is out of the mix.</summary>
    public bool IsMuted => Stem.Placement.Muted;

    /// <summary>True while only this and other soloed stems are heard.</summary>
    public bool IsSoloed => desk.Solo.Contains(desk.Song, Name);

    /// <summary>True when it can be heard: not muted, and no other stem is soloed without it.</summary>
    public bool IsHeard => !IsMuted && (IsSoloed || !desk.Solo.Any(desk.Song));

    /// <summary>True when the sound passes by its whole chain.</summary>
    public bool IsBypassed => Stem.Chain.Bypassed;

    /// <summary>True when this is what the desk works on, or one of its parallels is.</summary>
    public bool IsSelected => desk.Selection.Stem == Index;

    /// <summary>Its parallels, in order.</summary>
    public IReadOnlyList<ParallelRow> Parallels => parallels;

    /// <summary>Levels before and after its chain, and the gain reduction of its processors.</summary>
    public PathMeter Meter { get; }

    /// <summary>What the engineer wrote down about it.</summary>
    public IReadOnlyList<Note> Notes => Stem.Notes;

    /// <summary>Largest sample on the song bus in dBFS, gain included; falling back as meters do.</summary>
    public double BusPeakDbfs => IsHeard ? Meter.OutputPeakDbfs + Gain.Value : double.NegativeInfinity;

    /// <summary>Out of the mix, or in.</summary>
    public string? ToggleMute() => Change(stem => stem with { Placement = stem.Placement with { Muted = !stem.Placement.Muted } });

    /// <summary>Heard with the other soloed stems only; <paramref name="alone"/> takes the others out of solo. Not part of the album.</summary>
    public void ToggleSolo(bool alone = false) => desk.ToggleSolo(Index, alone);

    /// <summary>The whole chain in or out.</summary>
    public string? ToggleBypass() => Change(stem => stem with { Chain = stem.Chain with { Bypassed = !stem.Chain.Bypassed } });

    /// <summary>Normal, inverted, left, right, and normal again.</summary>
    public string? NextPolarity() => Change(stem => stem with
    {
        Placement = stem.Placement with { Polarity = (Polarity)(((int)stem.Placement.Polarity + 1) % Enum.GetValues<Polarity>().Length) },
    });

    /// <summary>Gives it another role.</summary>
    public string? SetRole(StemRole role) => Change(stem => stem with { Role = role });

    /// <summary>Gives it another name; keys that listen to it follow. Null, or one line that says what is wrong.</summary>
    public string? Rename(string name) => desk.Set($"{desk.SongIndex + 1}/{Index + 1}.name", name);

    /// <summary>Adds a parallel, fed by the end of the chain, turned all the way down. Null, or what is wrong.</summary>
    public string? AddParallel(string name) => desk.Edit(album => Albums.Editing.AlbumEdits.AddParallel(album, $"{desk.SongIndex + 1}/{Index + 1}", name, desk.Catalogue));

    /// <summary>Takes it out of the song; its file stays where it is. Null, or what is wrong.</summary>
    public string? Remove()
    {
        if (desk.Song.Stems.Length == 1)
        {
            return desk.Refuse($"{Name} is the only stem of {desk.Song.Title}: take the song out of the album instead");
        }

        return desk.EditSong(song => Albums.Editing.AlbumEdits.WithoutStem(song, Index));
    }

    /// <summary>Makes this what the desk works on.</summary>
    public void Select() => desk.Select(Place);

    internal void Refresh()
    {
        int count = Stem.Parallels.Length;
        while (parallels.Count > count)
        {
            parallels.RemoveAt(parallels.Count - 1);
        }

        while (parallels.Count < count)
        {
            parallels.Add(new ParallelRow(desk, Index, parallels.Count));
        }
    }

    internal void UpdateMeters(double seconds)
    {
        Meter.Update(seconds);
        foreach (ParallelRow row in parallels)
        {
            row.Meter.Update(seconds);
        }
    }

    // Each is a step of its own: switches have no movement.
    private string? Change(Func<Stem, Stem> change) =>
        desk.EditSong(song => song with { Stems = song.Stems.SetItem(Index, change(song.Stems[Index])) });

    private ValueField PlacementField(AlbumField field, string what, Func<Placement, double> get, Func<Placement, double, Placement> with) => new(
        $"stem {Index} {what}",
        field,
        () => get(Stem.Placement),
        (value, gesture) => desk.EditSong(
            song => song with { Stems = song.Stems.SetItem(Index, song.Stems[Index] with { Placement = with(song.Stems[Index].Placement, value) }) },
            gesture));
}
