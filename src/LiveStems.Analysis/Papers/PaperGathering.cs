using System.Globalization;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Delivery;
using LiveStems.Analysis.Headroom;
using LiveStems.Analysis.Intake;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Papers;

/// <summary>Measures and looks up all that an album's papers tell.</summary>
public static class PaperGathering
{
    /// <summary>Gathers the contents of the papers.</summary>
    /// <param name="album">The album.</param>
    /// <param name="albumFolder">Its folder.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="date">The day told.</param>
    /// <param name="scope">What is told beside the measurements.</param>
    /// <param name="threads">Threads to use; the figures do not depend on it.</param>
    /// <param name="progress">Told what is being done and the share of the whole, 0 to 1.</param>
    /// <param name="cancellation">Stops soon.</param>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static PaperContents Gather(
        Album album, string albumFolder, ProcessorCatalogue catalogue, DateOnly date, PaperScope scope, int threads, Action<string, double> progress, CancellationToken cancellation)
    {
        double parts = 1 + (scope.HasAccount ? album.Songs.Length : 0) + (scope.HasCheck ? 1 : 0);
        double done = 0;
        int[] all = [.. Enumerable.Range(0, album.Songs.Length)];
        AlbumBalance balance = AlbumBalance.Measure(album, albumFolder, all, catalogue, threads, share => progress("measuring the songs", share / parts), cancellation);
        done++;
        List<HeadroomReport> accounts = [];
        foreach (Song song in scope.HasAccount ? album.Songs : [])
        {
            Told<double> share = new(each => progress($"keeping account of {song.Title}", (done + each) / parts));
            accounts.Add(HeadroomAccount.Measure(song, albumFolder, catalogue, wholly: false, threads, share, cancellation));
            done++;
        }

        IntakeReport? intake = scope.HasCheck
            ? IntakeCheck.Run(IntakeSongs.Of(album, albumFolder), (song, share) => progress($"checking {song}", (done + share) / parts), cancellation)
            : null;
        IReadOnlyList<LoggedDelivery> log = DeliveryLog.List(albumFolder, catalogue);
        LoggedDelivery? last = log.Count > 0 ? log[^1] : null;
        (IReadOnlyList<ManifestFile> files, IReadOnlyList<string> remarks) = Delivered(last);
        return new PaperContents(album, balance, catalogue, date)
        {
            Accounts = accounts,
            Intake = intake,
            LastDelivery = last is null ? null : (last, files),
            DeliveryRemarks = remarks,
            Changes = last is null ? [] : AlbumDifference.Between(last.Album, album, catalogue),
            Versions = [.. AlbumVersions.List(albumFolder, catalogue).Select(version => $"{version.Name}, {version.SavedAt.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}")],
            HasNotes = scope.HasNotes,
        };
    }

    // A delivery that was moved or thrown away is no reason to have no papers.
    private static (IReadOnlyList<ManifestFile> Files, IReadOnlyList<string> Remarks) Delivered(LoggedDelivery? last)
    {
        if (last is null)
        {
            return ([], []);
        }

        try
        {
            return (ManifestReading.Of(last.Folder), ManifestReading.RemarksOf(last.Folder));
        }
        catch (DeliveryException)
        {
            return ([], [$"The folder {last.Folder} was moved or is not to be read, so the files of this delivery and their checksums are not listed here; SHA256SUMS in it names them."]);
        }
    }

    // Tells at once, on the thread that reports.
    private sealed class Told<T>(Action<T> tell) : IProgress<T>
    {
        public void Report(T value) => tell(value);
    }
}
