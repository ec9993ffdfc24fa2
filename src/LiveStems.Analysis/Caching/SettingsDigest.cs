using System.Security.Cryptography;
using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Caching;

/// <summary>
/// A name for what a song would sound like: the same settings over the same files by the same program give the same name,
/// anything else another.
/// </summary>
public static class SettingsDigest
{
    // Another build may sound different; what it kept is not taken over.
    private static readonly string Program = string.Join(
        ' ',
        new[] { typeof(LoudnessMeter), typeof(Processor), typeof(OfflineRenderer) }.Select(type => type.Assembly.ManifestModule.ModuleVersionId.ToString("N")));

    /// <summary>64 hexadecimal digits for a song; notes, titles and how the song stands on the album do not count.</summary>
    /// <param name="song">The song, or a part of one.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to; asked for length and time of files without a digest.</param>
    /// <param name="catalogue">Knows the processors.</param>
    public static string Of(Song song, string albumFolder, ProcessorCatalogue catalogue) => Of(Program + Text(song, albumFolder, catalogue));

    /// <summary>The same for the settings and files alone, whichever build of the program works with them.</summary>
    /// <inheritdoc cref="Of(Song, string, ProcessorCatalogue)"/>
    public static string OfSettings(Song song, string albumFolder, ProcessorCatalogue catalogue) => Of(Text(song, albumFolder, catalogue));

    private static string Text(Song song, string albumFolder, ProcessorCatalogue catalogue)
    {
        Song bare = song with
        {
            Title = "song", RoughMix = null, Targets = null, Notes = [], Markers = [], Answers = [], Isrc = string.Empty, Edges = SongEdges.Usual, State = SongState.Open,
            Stems = [.. song.Stems.Select(stem => stem with { Notes = [] })],
        };
        Album album = new("album", "artist", DeliveryTargets.Usual, [bare], []);
        StringBuilder text = new(Encoding.UTF8.GetString(AlbumFile.ToBytes(album, AlbumFile.Name, catalogue)));
        foreach (Stem stem in song.Stems.Where(stem => stem.Sha256.Length == 0))
        {
            FileInfo file = new(Path.Combine(albumFolder, stem.File));
            text.Append($"{file.FullName} {(file.Exists ? $"{file.Length} {file.LastWriteTimeUtc.Ticks}" : "missing")}");
        }

        text.Append(OutsideOf(song.Stems.SelectMany(stem => stem.Parallels.Select(parallel => parallel.Chain).Append(stem.Chain)).Append(song.Bus), catalogue));
        return text.ToString();
    }

    /// <summary>
    /// What the processors of others in some chains are made of: one may be missing today and back tomorrow, or be built anew
    /// under the same version.
    /// </summary>
    /// <param name="chains">The chains.</param>
    /// <param name="catalogue">Knows the processors.</param>
    public static string OutsideOf(IEnumerable<Chain> chains, ProcessorCatalogue catalogue) => string.Concat(chains
        .SelectMany(chain => chain.Slots).Select(slot => slot.Processor).Where(id => BuiltInProcessors.Catalogue.Find(id) is null)
        .Distinct().Order(StringComparer.Ordinal).Select(id => $"{id} {Made(id, catalogue)}"));

    private static string Made(string id, ProcessorCatalogue catalogue)
    {
        try
        {
            return catalogue.Find(id) is { } here && catalogue.BuildOf(id) is { Length: > 0 } build ? $"{here.Version} {build}"
                : catalogue.Create(id) is { } processor ? $"{processor.Description.Version} {processor.GetType().Module.ModuleVersionId:N}" : "missing";
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            return "cannot be made";
        }
    }

    /// <summary>64 hexadecimal digits for a text.</summary>
    public static string Of(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
