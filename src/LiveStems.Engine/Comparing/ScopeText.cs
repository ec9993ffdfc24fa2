using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Comparing;

/// <summary>
/// Reads what is to be compared as people write it: <c>stems</c>, <c>Bass</c>, <c>Bass/chain</c>, <c>Bass/compressor</c>,
/// <c>Drums/parallel:Crush</c>, <c>Drums/parallel:Crush/chain</c>, <c>Drums/parallel:Crush/compressor</c>, <c>bus</c>,
/// <c>bus/limiter</c>, <c>rough</c>.
/// </summary>
public static class ScopeText
{
    private const string AllStems = "stems";
    private const string Bus = "bus";
    private const string RoughMix = "rough";
    private const string WholeChain = "chain";
    private const string ParallelPrefix = "parallel:";

    /// <summary>What a text means in a song. Stems may be numbers or beginnings of names.</summary>
    /// <exception cref="ComparisonException">It means nothing there.</exception>
    public static CompareScope Parse(Song song, string text)
    {
        string[] parts = [.. text.Split('/').Select(part => part.Trim())];
        if (parts.Length == 1 && Is(parts[0], AllStems))
        {
            return new AllStemsScope();
        }

        if (parts.Length == 1 && Is(parts[0], RoughMix))
        {
            return FileScope.RoughMixOf(song);
        }

        if (Is(parts[0], Bus))
        {
            return InChain(song, ChainPlace.SongChain, parts[1..], new ChainScope(ChainPlace.SongChain), text);
        }

        Stem stem = StemOf(song, parts[0]);
        if (parts.Length > 1 && parts[1].StartsWith(ParallelPrefix, StringComparison.OrdinalIgnoreCase))
        {
            Parallel parallel = ParallelOf(stem, parts[1][ParallelPrefix.Length..].Trim());
            return InChain(song, new ChainPlace(stem.Name, parallel.Name), parts[2..], new ParallelScope(stem.Name, parallel.Name), text);
        }

        return InChain(song, new ChainPlace(stem.Name), parts[1..], new StemScope(stem.Name), text);
    }

    /// <summary>The parallel of a stem that a name or the beginning of one means.</summary>
    /// <exception cref="ComparisonException">None or several fit.</exception>
    public static Parallel ParallelOf(Stem stem, string name)
    {
        Parallel[] fitting = [.. stem.Parallels.Where(parallel => Is(parallel.Name, name))];
        fitting = fitting.Length == 1 ? fitting : [.. stem.Parallels.Where(parallel => parallel.Name.StartsWith(name, StringComparison.OrdinalIgnoreCase))];
        return fitting.Length == 1 ? fitting[0] : stem.ParallelNamed(name);
    }

    private static CompareScope InChain(Song song, ChainPlace place, string[] rest, CompareScope whole, string text)
    {
        switch (rest.Length)
        {
            case 0:
                return whole;
            case 1 when Is(rest[0], WholeChain):
                return new ChainScope(place);
            case 1:
                string id = place.In(song).Slots.Select(slot => slot.Id).FirstOrDefault(each => Is(each, rest[0])) ?? rest[0];
                return new ProcessorScope(place, id);
            default:
                throw new ComparisonException($"'{text}' is nothing to compare; write stems, bus, rough, STEM, STEM/chain, STEM/PROCESSOR or STEM/parallel:NAME");
        }
    }

    private static Stem StemOf(Song song, string name)
    {
        try
        {
            return song.Stems[AlbumAddress.StemIndex(song, name)];
        }
        catch (AlbumException exception)
        {
            throw new ComparisonException($"{exception.Message}; 'stems' is all of them, 'bus' the song chain, 'rough' the rough mix");
        }
    }

    private static bool Is(string one, string other) => one.Equals(other, StringComparison.OrdinalIgnoreCase);
}
