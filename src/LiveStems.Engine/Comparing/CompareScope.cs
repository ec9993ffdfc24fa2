using LiveStems.Albums.Model;

namespace LiveStems.Engine.Comparing;

/// <summary>What can be compared: something with it against without it, or one thing against another.</summary>
public abstract record CompareScope
{
    /// <summary>What it is, for people: "Bass, compressor".</summary>
    public abstract string Words { get; }

    /// <summary>True when it may be heard alone or inside the whole song.</summary>
    public virtual bool HasHearing => true;

    /// <summary>Both sides, made from the song as it is.</summary>
    internal abstract ComparedSongs Of(Song song, bool isInSong);
}

/// <summary>One processor.</summary>
/// <param name="Place">Its chain.</param>
/// <param name="SlotId">Its id in the chain.</param>
public sealed record ProcessorScope(ChainPlace Place, string SlotId) : CompareScope
{
    /// <inheritdoc/>
    public override string Words => $"{Place.Words}, {SlotId}";

    /// <inheritdoc/>
    internal override ComparedSongs Of(Song song, bool isInSong)
    {
        Chain chain = Place.In(song);
        int index = chain.Slots.Select(slot => slot.Id).ToList().IndexOf(SlotId);
        if (index < 0)
        {
            throw new ComparisonException(chain.Slots.IsEmpty
                ? $"the chain of {Place.Words} is empty; there is nothing to compare"
                : $"{Place.Words} has no processor '{SlotId}'; there is {string.Join(", ", chain.Slots.Select(slot => slot.Id))}");
        }

        Song heard = isInSong ? song : song.Alone(Place);
        return new ComparedSongs(With(heard, index, isInSong, isIn: true), With(heard, index, isInSong, isIn: false), null);
    }

    // Heard alone, what follows in the chain is left out.
    private Song With(Song song, int index, bool isInSong, bool isIn) => Place.With(song, chain => chain with
    {
        Bypassed = false,
        Slots = [.. chain.Slots.Select((slot, i) => slot with
        {
            Bypassed = i == index ? !isIn : slot.Bypassed || chain.Bypassed || (!isInSong && i > index),
        })],
    });
}

/// <summary>A whole chain: of a stem, of a parallel, or of the song.</summary>
/// <param name="Place">The chain.</param>
public sealed record ChainScope(ChainPlace Place) : CompareScope
{
    /// <inheritdoc/>
    public override string Words => Place.Stem is null ? "song chain" : $"chain of {Place.Words}";

    /// <inheritdoc/>
    public override bool HasHearing => Place.Stem is not null;

    /// <inheritdoc/>
    internal override ComparedSongs Of(Song song, bool isInSong)
    {
        if (Place.In(song).Slots.IsEmpty)
        {
            throw new ComparisonException($"the chain of {Place.Words} is empty; there is nothing to compare");
        }

        Song heard = isInSong ? song : song.Alone(Place);
        return new ComparedSongs(
            Place.With(heard, chain => chain with { Bypassed = false }),
            Place.With(heard, chain => chain with { Bypassed = true }),
            null);
    }
}

/// <summary>All that is done to a stem: chain, parallels, gain and pan, against the stem as it came.</summary>
/// <param name="Stem">Name of the stem.</param>
public sealed record StemScope(string Stem) : CompareScope
{
    /// <inheritdoc/>
    public override string Words => $"all of {Stem}";

    /// <inheritdoc/>
    internal override ComparedSongs Of(Song song, bool isInSong)
    {
        if (!song.StemNamed(Stem).IsTreated())
        {
            throw new ComparisonException($"nothing is done to '{Stem}': no chain, parallel, gain or pan; there is nothing to compare");
        }

        Song heard = isInSong ? song : song.Alone(Stem);
        return new ComparedSongs(heard, heard.WithStem(Stem, SongViews.AsItCame), null);
    }
}

/// <summary>All that is done to all stems, against the stems as they came; alone is without the song chain.</summary>
public sealed record AllStemsScope : CompareScope
{
    /// <inheritdoc/>
    public override string Words => "all stems";

    /// <inheritdoc/>
    internal override ComparedSongs Of(Song song, bool isInSong)
    {
        if (!song.Stems.Any(SongViews.IsTreated))
        {
            throw new ComparisonException($"nothing is done to any stem of '{song.Title}': no chain, parallel, gain or pan; there is nothing to compare");
        }

        Song heard = isInSong ? song : song.WithoutSongChain();
        return new ComparedSongs(heard, heard with { Stems = [.. heard.Stems.Select(SongViews.AsItCame)] }, null);
    }
}

/// <summary>A parallel under its stem: in is the dry stem, out is both, difference is the parallel.</summary>
/// <param name="Stem">Name of the stem.</param>
/// <param name="Parallel">Name of its parallel.</param>
public sealed record ParallelScope(string Stem, string Parallel) : CompareScope
{
    /// <inheritdoc/>
    public override string Words => $"{Stem}, parallel {Parallel}";

    /// <inheritdoc/>
    internal override ComparedSongs Of(Song song, bool isInSong)
    {
        _ = song.StemNamed(Stem).ParallelNamed(Parallel);
        Song heard = isInSong ? song : song.Alone(Stem);
        return new ComparedSongs(With(heard, isMuted: false), With(heard, isMuted: true), null);
    }

    private Song With(Song song, bool isMuted) =>
        song.WithStem(Stem, stem => stem.WithParallel(Parallel, parallel => parallel with { Muted = isMuted }));
}

/// <summary>The song as it is against the same song in another version of the album.</summary>
/// <param name="Other">The song in the other version.</param>
/// <param name="Name">What the other version is called.</param>
public sealed record VersionScope(Song Other, string Name) : CompareScope
{
    /// <inheritdoc/>
    public override string Words => $"version {Name}";

    /// <inheritdoc/>
    public override bool HasHearing => false;

    /// <inheritdoc/>
    internal override ComparedSongs Of(Song song, bool isInSong)
    {
        bool isSameSong = song.Stems.Any(stem => Other.Stems.Any(other => other.File == stem.File || (stem.Sha256.Length > 0 && other.Sha256 == stem.Sha256)));
        if (!isSameSong)
        {
            throw new ComparisonException($"version {Name} comes from another album: its '{Other.Title}' has no stem in common with '{song.Title}'");
        }

        return Sharing.Between(Other, song).IsEverything
            ? throw new ComparisonException($"'{song.Title}' sounds the same in version {Name}; there is nothing to compare")
            : new ComparedSongs(song, Other, null);
    }
}

/// <summary>The song against a finished file: the rough mix or a reference.</summary>
/// <param name="File">The file and where it starts.</param>
/// <param name="Name">What it is called: "rough mix", or the reference's name.</param>
public sealed record FileScope(ComparedFile File, string Name) : CompareScope
{
    /// <inheritdoc/>
    public override string Words => Name;

    /// <inheritdoc/>
    public override bool HasHearing => false;

    /// <summary>The song's own rough mix.</summary>
    /// <exception cref="ComparisonException">The song has none.</exception>
    public static FileScope RoughMixOf(Song song) => song.RoughMix is { } path
        ? new FileScope(new ComparedFile(path, 0), "rough mix")
        : throw new ComparisonException($"the song '{song.Title}' has no rough mix; 'livestems set' gives it one: \"{song.Title}.roughMix = FILE\"");

    /// <inheritdoc/>
    internal override ComparedSongs Of(Song song, bool isInSong) => new(song, null, File);
}
