using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>What a comparison is about.</summary>
public enum CompareScope
{
    /// <summary>The selected processor.</summary>
    Processor,

    /// <summary>The chain that the desk works on.</summary>
    Chain,

    /// <summary>The selected stem: its chain and its parallels.</summary>
    Stem,

    /// <summary>All stems; the song bus stays in.</summary>
    AllStems,

    /// <summary>The selected parallel.</summary>
    Parallel,

    /// <summary>The song bus; its limiter stays in.</summary>
    SongBus,

    /// <summary>A version of the album against the album as it is.</summary>
    Version,

    /// <summary>The song against the mix engineer's rough mix.</summary>
    RoughMix,

    /// <summary>The song against a sound file.</summary>
    File,
}

/// <summary>Which side of a comparison is heard.</summary>
public enum CompareSide
{
    /// <summary>With what is compared.</summary>
    In,

    /// <summary>Without it, or the other one.</summary>
    Out,

    /// <summary>In minus out, aligned.</summary>
    Difference,
}

/// <summary>The compare strip: scope, side, fair gain.</summary>
public sealed class CompareModel
{
    private readonly AlbumDesk desk;

    internal CompareModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>What is compared.</summary>
    public CompareScope Scope { get; private set; } = CompareScope.AllStems;

    /// <summary>What is heard.</summary>
    public CompareSide Side { get; private set; } = CompareSide.In;

    /// <summary>True while both sides are made equally loud.</summary>
    public bool IsFair { get; private set; } = true;

    /// <summary>The gain that makes both sides equally loud, in dB; null before it is known.</summary>
    public double? FairGainDb { get; internal set; }

    /// <summary>Chooses what is compared.</summary>
    public void Choose(CompareScope scope)
    {
        Scope = scope;
        desk.ShowSong();
    }

    /// <summary>Chooses what is heard.</summary>
    public void Hear(CompareSide side)
    {
        Side = side;
        desk.ShowSong();
    }

    /// <summary>In and out in turn.</summary>
    public void Toggle() => Hear(Side == CompareSide.In ? CompareSide.Out : CompareSide.In);

    /// <summary>Makes both sides equally loud, or leaves them as they are.</summary>
    public void ToggleFair() => IsFair = !IsFair;

    /// <summary>The song with the compared scope taken out, as the player needs it while the other side is heard.</summary>
    internal Song Apply(Song song) => Side == CompareSide.Out ? CompareScopes.Without(song, Scope, desk.Selection) : song;
}
