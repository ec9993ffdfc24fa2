using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Planning;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Whether songs can be delivered as they are set. A processor that is switched on and not here stops a delivery before it
/// begins, one that fails while it renders stops it then: a client never gets less than what was set. What is harmless but
/// should be known goes into the manifest and the papers.
/// </summary>
internal static class SongFitness
{
    /// <summary>Sees to it that every processor that is switched on is here.</summary>
    /// <exception cref="DeliveryException">One is not; the message says where and how to mend it.</exception>
    public static void Check(Album album, IEnumerable<int> songs, ProcessorCatalogue catalogue)
    {
        foreach (Song song in songs.Select(index => album.Songs[index]))
        {
            foreach ((string place, Chain chain) in Chains(song).Where(entry => !entry.Chain.Bypassed))
            {
                if (chain.Slots.FirstOrDefault(slot => !slot.Bypassed && slot.MixPercent > 0 && KeptSettings.FaultOf(slot, catalogue) is not null) is { } slot)
                {
                    throw new DeliveryException($"'{song.Title}', {place}: the processor '{slot.Processor}' {KeptSettings.FaultOf(slot, catalogue)}; nothing was delivered: bring it back ('livestems processors'), or switch it off in the album ('{slot.Id}.on=off')");
                }
            }
        }
    }

    /// <summary>What should be known of the songs, a line each.</summary>
    public static IEnumerable<string> Remarks(Album album, string albumFolder, IEnumerable<int> songs)
    {
        foreach (Song song in songs.Select(index => album.Songs[index]))
        {
            if (song.Isrc.Length == 0)
            {
                yield return $"{song.Title}: has no recording code (ISRC); 'livestems set ALBUM \"{song.Title}.isrc=…\"' sets it";
            }

            int[] rates = [.. song.Stems.Select(stem => RateOf(AlbumPath.OnDisk(albumFolder, stem.File)))];
            int rate = RateChoice.For(song, rates, null);
            for (int i = 0; i < rates.Length; i++)
            {
                if (rates[i] != rate)
                {
                    yield return $"{song.Title}: {song.Stems[i].Name} was converted from {rates[i]} Hz to {rate} Hz";
                }
            }

            foreach ((string place, Chain chain) in Chains(song))
            {
                foreach (ChainSlot slot in chain.Slots.Where(slot => !slot.Suggested && (slot.Bypassed || chain.Bypassed)))
                {
                    yield return $"{song.Title}: {place}: {slot.Id} is switched off";
                }
            }
        }
    }

    private static IEnumerable<(string Place, Chain Chain)> Chains(Song song)
    {
        foreach (Stem stem in song.Stems)
        {
            yield return (stem.Name, stem.Chain);
            foreach (Parallel parallel in stem.Parallels)
            {
                yield return ($"{stem.Name}, parallel {parallel.Name}", parallel.Chain);
            }
        }

        yield return ("song bus", song.Bus);
    }

    private static int RateOf(string path)
    {
        using IAudioReader reader = AudioFile.Open(path);
        return reader.Info.SampleRate;
    }
}
