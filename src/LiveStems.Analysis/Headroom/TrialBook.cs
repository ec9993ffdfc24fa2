using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Headroom;

/// <summary>Names the states of a song by what makes their sound, stem by stem.</summary>
internal sealed class TrialBook
{
    private readonly Song song;
    private readonly Song bare;
    private readonly string albumFolder;
    private readonly ProcessorCatalogue catalogue;
    private readonly string[] stemsIn;
    private readonly string[] stemsBare;

    /// <param name="song">The song as it is, its rate said.</param>
    /// <param name="bare">The song without corrections.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    public TrialBook(Song song, Song bare, string albumFolder, ProcessorCatalogue catalogue)
    {
        this.song = song;
        this.bare = bare;
        this.albumFolder = albumFolder;
        this.catalogue = catalogue;
        stemsIn = [.. song.Stems.Select((_, index) => DigestOf(song, index))];
        stemsBare = [.. bare.Stems.Select((_, index) => DigestOf(bare, index))];
        AllIn = new Trial(Name(stemsIn, song.Bus), false, -1, null, null, song.Bus) { IsBase = true };
        AllOut = new Trial(Name(stemsBare, bare.Bus), true, -1, null, null, bare.Bus) { IsBase = true };
    }

    /// <summary>The song as it is.</summary>
    public Trial AllIn { get; }

    /// <summary>The song with every correction out.</summary>
    public Trial AllOut { get; }

    /// <summary>Digests of all stems as they are, in the order of the song.</summary>
    public IReadOnlyList<string> StemsIn => stemsIn;

    /// <summary>Digests of all stems without corrections.</summary>
    public IReadOnlyList<string> StemsBare => stemsBare;

    /// <summary>Digest of a stem as it is, with all that is done to it; the name under which its render is kept.</summary>
    public string StemIn(int stem) => stemsIn[stem];

    /// <summary>Digest of what decides the rows of a subject beside the rest of the song: its stem and the bus.</summary>
    public string OwnState(HeadroomSubject subject) => SettingsDigest.Of(BusText(song.Bus) + (subject.Stem < 0 ? string.Empty : stemsIn[subject.Stem]));

    /// <summary>The song with everything in but a subject.</summary>
    public Trial LeftOut(HeadroomSubject subject) => Make(subject.TakeOut(song), false, subject.Stem, stemsIn);

    /// <summary>The song with every correction out but a subject.</summary>
    public Trial AddedIn(HeadroomSubject subject) => Make(subject.PutIn(bare), true, subject.Stem, stemsBare);

    private string Name(IEnumerable<string> stems, Chain bus) => SettingsDigest.Of(string.Join(' ', stems) + BusText(bus));

    private string BusText(Chain bus) => SettingsDigest.OutsideOf([bus], catalogue) +
        string.Join(' ', bus.Slots.Where(slot => !bus.Bypassed && !slot.Bypassed).Select(slot => $"{slot}{string.Join(',', slot.Parameters)}"));

    private Trial Make(Song state, bool startsBare, int stem, string[] stems)
    {
        if (stem < 0)
        {
            return new Trial(Name(stems, state.Bus), startsBare, -1, null, null, state.Bus);
        }

        string digest = DigestOf(state, stem);
        return new Trial(Name(stems.Select((each, index) => index == stem ? digest : each), state.Bus), startsBare, stem, digest, state.Stems[stem], state.Bus);
    }

    // What is switched off is not heard, whatever its settings: turning a correction leaves the song without it as it was.
    private string DigestOf(Song state, int stem) =>
        SettingsDigest.Of(SongParts.Alone(state with { Stems = state.Stems.SetItem(stem, Heard(state.Stems[stem])) }, stem), albumFolder, catalogue);

    private static Stem Heard(Stem stem) => stem with
    {
        Chain = Heard(stem.Chain),
        Parallels = [.. stem.Parallels.Where(parallel => !parallel.Muted).Select(parallel => parallel with { Chain = Heard(parallel.Chain) })],
    };

    private static Chain Heard(Chain chain) => chain.Bypassed ? Chain.Empty : chain with { Slots = [.. chain.Slots.Where(slot => !slot.Bypassed)] };
}
