using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.View.Desk;

/// <summary>A parallel as the desk shows it under its stem.</summary>
public sealed class ParallelRow
{
    private readonly AlbumDesk desk;
    private readonly int stem;

    internal ParallelRow(AlbumDesk desk, int stem, int index)
    {
        this.desk = desk;
        this.stem = stem;
        Index = index;
        Blend = new ValueField(
            $"stem {stem} parallel {index} blend", AlbumFields.BlendDb, () => Parallel.BlendDb, (value, gesture) => Change(each => each with { BlendDb = value }, gesture));
        Align = new ValueField(
            $"stem {stem} parallel {index} align", AlbumFields.AlignSamples, () => Parallel.AlignSamples, (value, gesture) => Change(each => each with { AlignSamples = value }, gesture));
        Meter = new PathMeter(desk.Player, desk.Slots, Place);
    }

    /// <summary>Index under its stem.</summary>
    public int Index { get; }

    /// <summary>The whole chain of the parallel, as a place.</summary>
    public TapPlace Place => new(stem, Index, null);

    /// <summary>The record of the parallel.</summary>
    public Parallel Parallel => desk.Song.Stems[stem].Parallels[Index];

    /// <summary>Its name.</summary>
    public string Name => Parallel.Name;

    /// <summary>Level on the song bus relative to the stem.</summary>
    public ValueField Blend { get; }

    /// <summary>How much later than its latency alone would have it the path comes, in frames; on top of what is made up for anyway.</summary>
    public ValueField Align { get; }

    /// <summary>True when the equalisers of the stem's chain come first in the path, as they are set there.</summary>
    public bool IsEqualiserLinked => Parallel.IsEqualiserLinked;

    /// <summary>True when it is out of the mix.</summary>
    public bool IsMuted => Parallel.Muted;

    /// <summary>True when it is fed by the output of the stem's chain, false by its input.</summary>
    public bool IsAfterChain => Parallel.AfterChain;

    /// <summary>True when the sound passes by its whole chain.</summary>
    public bool IsBypassed => Parallel.Chain.Bypassed;

    /// <summary>True when this is what the desk works on.</summary>
    public bool IsSelected => desk.Selection.Chain == Place;

    /// <summary>Levels before and after its chain, and the gain reduction of its processors.</summary>
    public PathMeter Meter { get; }

    /// <summary>Out of the mix, or in.</summary>
    public string? ToggleMute() => Change(parallel => parallel with { Muted = !parallel.Muted });

    /// <summary>The whole chain in or out.</summary>
    public string? ToggleBypass() => Change(parallel => parallel with { Chain = parallel.Chain with { Bypassed = !parallel.Chain.Bypassed } });

    /// <summary>Fed before or after the stem's chain.</summary>
    public string? ToggleFeed() => Change(parallel => parallel with { AfterChain = !parallel.AfterChain });

    /// <summary>The stem's equalisers first in the path, or not.</summary>
    public string? ToggleEqualiserLink() => Change(parallel => parallel with { IsEqualiserLinked = !parallel.IsEqualiserLinked });

    /// <summary>Copies of the stem's equalisers first in the path, to be changed there. Null, or what is wrong.</summary>
    public string? CopyEqualisers() => desk.Edit(album => ParallelEdits.CopyEqualisers(album, InAlbum));

    /// <summary>True when a processor turns its polarity over.</summary>
    public bool IsTurnedOver => ParallelEdits.IsTurnedOver(Parallel);

    /// <summary>Its polarity turned over, or back. Null, or what is wrong.</summary>
    public string? TurnOver() => desk.Edit(album => ParallelEdits.TurnOver(album, InAlbum, desk.Catalogue));

    /// <summary>Gives it another name. Null, or what is wrong.</summary>
    public string? Rename(string name) => Change(parallel => parallel with { Name = name.Trim() });

    /// <summary>Takes it away.</summary>
    public string? Remove() => desk.EditSong(
        song => song with { Stems = song.Stems.SetItem(stem, song.Stems[stem] with { Parallels = song.Stems[stem].Parallels.RemoveAt(Index) }) });

    /// <summary>Makes this what the desk works on.</summary>
    public void Select() => desk.Select(Place);

    private ParallelPlace InAlbum => new(desk.SongIndex, stem, Index);

    private string? Change(Func<Parallel, Parallel> change, string? gesture = null) => desk.EditSong(
        song => song with
        {
            Stems = song.Stems.SetItem(stem, song.Stems[stem] with
            {
                Parallels = song.Stems[stem].Parallels.SetItem(Index, change(song.Stems[stem].Parallels[Index])),
            }),
        },
        gesture);
}
