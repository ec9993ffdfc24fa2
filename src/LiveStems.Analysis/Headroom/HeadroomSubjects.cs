using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Analysis.Headroom;

/// <summary>Finds what the account is kept about: every correction that is switched on, and every stem that has any.</summary>
internal static class HeadroomSubjects
{
    /// <summary>Subjects in the order of the song. A correction that is bypassed is out already and is no subject.</summary>
    /// <param name="song">The song; its bus ends in the limiter.</param>
    /// <param name="catalogue">Where processors' names come from.</param>
    public static IReadOnlyList<HeadroomSubject> Of(Song song, ProcessorCatalogue catalogue)
    {
        List<HeadroomSubject> subjects = [];
        for (int i = 0; i < song.Stems.Length; i++)
        {
            subjects.AddRange(OfStem(song.Stems[i], i, catalogue));
        }

        if (!song.Bus.Bypassed)
        {
            subjects.AddRange(song.Bus.Slots[..^1].Where(IsOn).Select(slot => OfBus(slot, catalogue)));
        }

        return subjects;
    }

    /// <summary>The song with nothing done to its stems and nothing on its bus but the limiter; levels, pans and alignments stay.</summary>
    public static Song WithoutCorrections(Song song) => song with
    {
        Stems = [.. song.Stems.Select(Untreated)],
        Bus = song.Bus with { Slots = [.. song.Bus.Slots.Select((slot, index) => index == song.Bus.Slots.Length - 1 ? slot : slot with { Bypassed = true })] },
    };

    private static IEnumerable<HeadroomSubject> OfStem(Stem stem, int index, ProcessorCatalogue catalogue)
    {
        List<HeadroomSubject> parts = [];
        if (stem.Placement.Muted)
        {
            yield break;
        }

        if (!stem.Chain.Bypassed)
        {
            parts.AddRange(stem.Chain.Slots.Where(IsOn).Select(slot => new HeadroomSubject(
                HeadroomSubjectKind.StemCorrection, index, null, slot.Id, $"{stem.Name}, {NameOf(slot, catalogue)}")
            {
                TakeOut = song => Change(song, index, each => each with { Chain = Bypass(each.Chain, slot.Id) }),
                PutIn = bare => Change(bare, index, _ => Untreated(stem) with { Chain = Only(stem.Chain, slot.Id) }),
            }));
        }

        foreach (Parallel parallel in stem.Parallels.Where(parallel => !parallel.Muted))
        {
            parts.Add(new HeadroomSubject(HeadroomSubjectKind.WholeParallel, index, parallel.Name, null, $"{stem.Name}, parallel {parallel.Name}")
            {
                TakeOut = song => Change(song, index, each => WithParallel(each, parallel with { Muted = true })),
                PutIn = bare => Change(bare, index, each => WithParallel(each, parallel)),
            });
            parts.AddRange(parallel.Chain.Bypassed ? [] : parallel.Chain.Slots.Where(IsOn).Select(slot => new HeadroomSubject(
                HeadroomSubjectKind.ParallelCorrection, index, parallel.Name, slot.Id, $"{stem.Name}, parallel {parallel.Name}, {NameOf(slot, catalogue)}")
            {
                TakeOut = song => Change(song, index, each => WithParallel(each, parallel with { Chain = Bypass(parallel.Chain, slot.Id) })),
                PutIn = bare => Change(bare, index, each => WithParallel(each, parallel with { Chain = Only(parallel.Chain, slot.Id) })),
            }));
        }

        if (parts.Count > 0)
        {
            yield return new HeadroomSubject(HeadroomSubjectKind.WholeStem, index, null, null, stem.Name)
            {
                TakeOut = song => Change(song, index, Untreated),
                PutIn = bare => Change(bare, index, _ => stem),
            };
        }

        foreach (HeadroomSubject part in parts)
        {
            yield return part;
        }
    }

    private static HeadroomSubject OfBus(ChainSlot slot, ProcessorCatalogue catalogue) =>
        new(HeadroomSubjectKind.BusCorrection, -1, null, slot.Id, $"song bus, {NameOf(slot, catalogue)}")
        {
            TakeOut = song => song with { Bus = Bypass(song.Bus, slot.Id) },
            PutIn = bare => bare with { Bus = bare.Bus with { Slots = [.. bare.Bus.Slots.Select(each => each.Id == slot.Id ? slot : each)] } },
        };

    private static bool IsOn(ChainSlot slot) => !slot.Bypassed && slot.MixPercent > 0;

    private static string NameOf(ChainSlot slot, ProcessorCatalogue catalogue)
    {
        string name = catalogue.Descriptions.FirstOrDefault(each => each.Id == slot.Processor)?.Name ?? slot.Processor;
        return slot.Id == slot.Processor ? name : $"{name} ({slot.Id})";
    }

    private static Stem Untreated(Stem stem) => stem with
    {
        Chain = stem.Chain with { Bypassed = true },
        Parallels = [.. stem.Parallels.Select(parallel => parallel with { Muted = true })],
    };

    private static Song Change(Song song, int stem, Func<Stem, Stem> change) =>
        song with { Stems = song.Stems.SetItem(stem, change(song.Stems[stem])) };

    private static Chain Bypass(Chain chain, string id) =>
        chain with { Slots = [.. chain.Slots.Select(slot => slot.Id == id ? slot with { Bypassed = true } : slot)] };

    private static Chain Only(Chain chain, string id) =>
        chain with { Bypassed = false, Slots = [.. chain.Slots.Select(slot => slot with { Bypassed = slot.Bypassed || slot.Id != id })] };

    private static Stem WithParallel(Stem stem, Parallel changed) =>
        stem with { Parallels = [.. stem.Parallels.Select(parallel => parallel.Name == changed.Name ? changed : parallel)] };
}
