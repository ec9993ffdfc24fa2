using System.Globalization;
using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Live;
using LiveStems.Files;

namespace LiveStems.View.Desk;

/// <summary>What a comparison is about.</summary>
public enum CompareKind
{
    /// <summary>The selected processor.</summary>
    Processor,

    /// <summary>The chain that the desk works on.</summary>
    Chain,

    /// <summary>The selected stem: chain, parallels, gain and pan.</summary>
    Stem,

    /// <summary>All that is done to all stems.</summary>
    AllStems,

    /// <summary>The selected parallel under its stem.</summary>
    Parallel,

    /// <summary>The song chain.</summary>
    SongChain,

    /// <summary>The song in a version of the album.</summary>
    Version,

    /// <summary>The mix engineer's rough mix.</summary>
    RoughMix,

    /// <summary>A sound file.</summary>
    File,
}

/// <summary>
/// The compare strip: "in" is the sound before what is compared (or the other version, or the file), "out" the song as it
/// is, "difference" out minus in; equally loud unless that is switched off.
/// </summary>
public sealed class CompareModel
{
    private readonly AlbumDesk desk;
    private readonly LiveComparison live;
    private string other = string.Empty;
    private double fileStartSeconds;

    internal CompareModel(AlbumDesk desk)
    {
        this.desk = desk;
        live = desk.Player.Comparing;
        Blind = new BlindModel(desk, this);
    }

    /// <summary>What a comparison is about, whether one is on or not.</summary>
    public CompareKind Kind { get; private set; } = CompareKind.AllStems;

    /// <summary>True to hear what is compared inside the whole song, false to hear it alone.</summary>
    public bool IsInSong { get; private set; } = true;

    /// <summary>True while a comparison is on.</summary>
    public bool IsOn => live.Chosen is not null;

    /// <summary>What is compared: "Bass, compressor, alone"; empty while no comparison is on.</summary>
    public string Words => live.Chosen?.Words ?? string.Empty;

    /// <summary>What is heard. Must not be shown during a blind test.</summary>
    public CompareSide Side => live.Side;

    /// <summary>True once both sides run and switching is at once.</summary>
    public bool IsReady => live.IsReady;

    /// <summary>True while both sides are made equally loud.</summary>
    public bool IsFair => live.IsFair;

    /// <summary>Loudness of both sides and the gains that follow.</summary>
    public FairGain Fair => live.Fair;

    /// <summary>The blind test.</summary>
    public BlindModel Blind { get; }

    /// <summary>Compares; null, or one line that says why there is nothing to compare.</summary>
    /// <param name="kind">What it is about.</param>
    /// <param name="of">For a version its name, for a file its path.</param>
    public string? Choose(CompareKind kind, string? of = null)
    {
        if (Blind.IsRunning)
        {
            return RefuseInTest();
        }

        if (of is not null && of != other)
        {
            other = of;
            fileStartSeconds = 0;
        }

        try
        {
            live.Choose(new Comparison(ScopeOf(kind), IsInSong));
            Kind = kind;
            return null;
        }
        catch (Exception fault) when (fault is ComparisonException or AlbumException or AudioFileException or IOException)
        {
            return desk.Refuse(fault.Message);
        }
    }

    /// <summary>Ends the comparison: the song as it is.</summary>
    public void Stop()
    {
        Blind.Stop();
        live.Choose(null);
    }

    /// <summary>Hears a side; begins a comparison when none is on.</summary>
    public string? Hear(CompareSide side)
    {
        if (Blind.IsRunning)
        {
            return desk.Refuse("a blind test is under way: hear the first and the second, or break it off");
        }

        if (!IsOn && Choose(Kind) is { } fault)
        {
            return fault;
        }

        live.Hear(side);
        return null;
    }

    /// <summary>In and out in turn; begins a comparison, with "in", when none is on.</summary>
    public string? Toggle() => Hear(IsOn && Side == CompareSide.In ? CompareSide.Out : CompareSide.In);

    /// <summary>The difference and out in turn.</summary>
    public string? ToggleDifference() => Hear(IsOn && Side == CompareSide.Difference ? CompareSide.Out : CompareSide.Difference);

    /// <summary>Where in the song the compared file starts, in seconds; below 0 when it starts inside the file.</summary>
    public double FileStartSeconds => fileStartSeconds;

    /// <summary>Has the compared file start at another place of the song, so that both run together. Null, or what is wrong.</summary>
    public string? StartFileAt(double seconds)
    {
        if (Blind.IsRunning)
        {
            return RefuseInTest();
        }

        if (!IsOn || Kind != CompareKind.File)
        {
            return desk.Refuse("compare with a sound file first: then it can be moved");
        }

        fileStartSeconds = seconds;
        return Again();
    }

    /// <summary>Makes both sides equally loud, or leaves them as they are. Null, or why not: in a blind test both are equally loud.</summary>
    public string? ToggleFair()
    {
        if (Blind.IsRunning)
        {
            return RefuseInTest();
        }

        live.IsFair = !live.IsFair;
        return null;
    }

    /// <summary>Alone or inside the whole song.</summary>
    public string? ToggleHearing()
    {
        if (Blind.IsRunning)
        {
            return RefuseInTest();
        }

        IsInSong = !IsInSong;
        return Again();
    }

    // An edit can leave nothing to compare, and ends the comparison; the test ends with it.
    internal void Update()
    {
        if (Blind.IsRunning && !IsOn)
        {
            Blind.Stop();
            desk.Say(MessageKind.Trouble, "there is nothing to compare any more: the blind test is broken off without a result");
        }
    }

    private string RefuseInTest() => desk.Refuse("a blind test is under way: break it off first");

    // A comparison that is about the selection goes on with the new one, on the same side.
    internal void OnSelection()
    {
        if (IsOn && !Blind.IsRunning && Kind is CompareKind.Processor or CompareKind.Chain or CompareKind.Stem or CompareKind.Parallel)
        {
            _ = Again();
        }
    }

    private string? Again()
    {
        if (!IsOn)
        {
            return null;
        }

        CompareSide side = Side;
        if (Choose(Kind) is { } fault)
        {
            Stop();
            return fault;
        }

        live.Hear(side);
        return null;
    }

    private CompareScope ScopeOf(CompareKind kind) => kind switch
    {
        CompareKind.Processor => new ProcessorScope(Place(), desk.Selection.Slot ?? throw new ComparisonException("select a processor to compare it")),
        CompareKind.Chain => new ChainScope(Place()),
        CompareKind.Stem => new StemScope(SelectedStem().Name),
        CompareKind.AllStems => new AllStemsScope(),
        CompareKind.Parallel when desk.Selection.Parallel >= 0 => new ParallelScope(SelectedStem().Name, SelectedStem().Parallels[desk.Selection.Parallel].Name),
        CompareKind.Parallel => throw new ComparisonException("select a parallel to compare it with its stem"),
        CompareKind.SongChain => new ChainScope(Engine.Comparing.ChainPlace.SongChain),
        CompareKind.Version => VersionOf(other),
        CompareKind.RoughMix => FileScope.RoughMixOf(desk.Song),
        _ => new FileScope(new ComparedFile(other, (int)Math.Round(fileStartSeconds * (desk.Song.SampleRate ?? desk.Player.SampleRate))), FileWords()),
    };

    private string FileWords() => fileStartSeconds == 0
        ? Path.GetFileName(other)
        : string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileName(other)} from {fileStartSeconds:0.00} s");

    private Stem SelectedStem() => desk.SelectedStem?.Stem ?? throw new ComparisonException("select a stem to compare it");

    private Engine.Comparing.ChainPlace Place()
    {
        if (desk.SelectedStem is not { } row)
        {
            return Engine.Comparing.ChainPlace.SongChain;
        }

        return new Engine.Comparing.ChainPlace(row.Name, desk.Selection.Parallel < 0 ? null : row.Parallels[desk.Selection.Parallel].Name);
    }

    private VersionScope VersionOf(string name)
    {
        AlbumVersion version = AlbumVersions.Find(desk.Album, name, desk.Folder, desk.Catalogue);
        Album album = AlbumVersions.WithPresentFiles(version.Album, desk.Album);
        Song song = album.Songs.FirstOrDefault(each => each.Title == desk.Song.Title)
            ?? album.Songs.FirstOrDefault(each => each.Stems.Any(stem => desk.Song.Stems.Any(now => now.File == stem.File)))
            ?? throw new ComparisonException($"version {version.Name} has no song '{desk.Song.Title}'");
        return new VersionScope(song, version.Name);
    }
}
