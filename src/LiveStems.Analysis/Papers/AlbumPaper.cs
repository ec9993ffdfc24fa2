using System.Globalization;
using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Delivery;

namespace LiveStems.Analysis.Papers;

/// <summary>The papers of an album as one page of HTML that needs nothing from outside: read on a desk or a phone, or printed.</summary>
public static class AlbumPaper
{
    private const string Hearing =
        "Loud sound can damage hearing for good. Start low, keep sessions short, rest your ears, and turn down before you compare. "
        + "Follow the rules for noise where you live and work; they go before anything said here. Ask a hearing professional when your ears ring or sound stays dull.";

    private const string Responsibility =
        "All figures were measured by a program and hold for the files named here and no others. They are no promise that a service, a pressing plant or a broadcaster will take the files: "
        + "ask for their own delivery rules, and have rights, codes and credits checked by those who answer for them. Listen to every file before it is published.";

    /// <summary>True for a file name that papers may have: .html or .htm.</summary>
    public static bool IsName(string path) => Path.GetExtension(path).ToLowerInvariant() is ".html" or ".htm";

    /// <summary>Writes the page to a file, which is replaced only once the new one is whole; returns its bytes.</summary>
    /// <exception cref="IOException">It can't be written.</exception>
    public static int Save(string path, PaperContents contents)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(Write(contents));
        SafeFile.Replace(path, bytes);
        return bytes.Length;
    }

    /// <summary>The page, UTF-8 text.</summary>
    public static string Write(PaperContents contents)
    {
        Html page = new();
        Album album = contents.Album;
        page.Raw("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">")
            .Element("title", $"{album.Title}: mastering papers").Raw($"<style>{PaperStyle.Sheet}</style>\n</head>\n<body>")
            .Raw("<header>").Element("h1", album.Title)
            .Element("p", $"{album.Artist} · mastering papers of {contents.Date.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}").Raw("</header>");
        Songs(page, contents);
        Changes(page, contents);
        for (int i = 0; i < album.Songs.Length; i++)
        {
            SongPaper.Write(page, contents, i);
        }

        Delivery(page, contents);
        page.Element("h2", "Hearing and responsibility").Element("p", Hearing).Element("p", Responsibility);
        page.Raw("</body>\n</html>");
        return page.ToString();
    }

    private static void Songs(Html page, PaperContents contents)
    {
        Album album = contents.Album;
        AlbumBalance balance = contents.Balance;
        page.Element("h2", "The album");
        page.Table(
            ["", "song", "length", "LUFS", "target", "LRA LU", "PLR LU", "dBTP", "lows", "mids", "highs", "state", "ISRC"],
            balance.Songs.Select((song, i) => (IReadOnlyList<string>)
            [
                $"{i + 1}", song.Title, Html.Length(song.Seconds), Html.Number(song.Loudness.IntegratedLufs, 1), Target(album.Songs[i].Targets ?? album.Targets),
                Html.Number(song.Loudness.LoudnessRangeLu, 1), Html.Number(song.PeakToLoudnessLu, 1), Html.Number(song.Loudness.TruePeakDbtp, 2),
                Against(song, each => each.LowsDb), Against(song, each => each.MidsDb), Against(song, each => each.HighsDb),
                AlbumWords.State[album.Songs[i].State], album.Songs[i].Isrc.Length > 0 ? Isrc.Written(album.Songs[i].Isrc) : "none",
            ]));
        page.Element("p class=\"quiet\"", "LUFS: integrated loudness. LRA: loudness range. PLR: true peak above loudness. dBTP: true peak. Lows (to 250 Hz), mids and highs (from 4 kHz): dB against the album's middle song, all songs at equal loudness. Measured per ITU-R BS.1770-5, EBU Tech 3341 and 3342.");
        if (contents.HasNotes)
        {
            page.List([.. album.Notes.Select(note => note.Text)]);
        }

        string Against(SongFigures song, Func<SongFigures, double> figure) => Html.Number(figure(song) - balance.Median(figure), 1, signed: true);
    }

    private static string Target(DeliveryTargets targets)
    {
        string ratio = targets.LeastPeakToLoudnessLu is { } least ? $"PLR {Html.Number(least, 1)}" : string.Empty;
        return targets.IntegratedLufs is { } loudness ? $"{Html.Number(loudness, 1)}{(ratio.Length > 0 ? ", " : "")}{ratio}" : ratio.Length > 0 ? ratio : "–";
    }

    private static void Changes(Html page, PaperContents contents)
    {
        if (contents.LastDelivery is { } last)
        {
            page.Element("h2", $"Since delivery {last.Delivery.Number}");
            page.Element("p", contents.Changes.Count == 0
                ? "Nothing was changed."
                : $"{(contents.Changes.Count == 1 ? "One setting differs" : $"{contents.Changes.Count} settings differ")}, in {string.Join(", ", contents.Changes.Select(change => change.Song ?? "the album itself").Distinct())}; each song lists its own.");
            page.List([.. contents.Changes.Where(change => change.Song is null).Select(change => change.Said)]);
        }

        if (contents.Versions.Count > 0)
        {
            page.Element("h3", "Versions kept").List([.. contents.Versions]);
        }
    }

    private static void Delivery(Html page, PaperContents contents)
    {
        if (contents.LastDelivery is not { } last)
        {
            page.Element("h2", "Delivery").Element("p", "Nothing was delivered yet.");
            return;
        }

        page.Raw("<section>").Element("h2", $"Delivery {last.Delivery.Number}");
        page.Element("p", $"Finished {last.Delivery.FinishedAt.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}; every file was read back and measured before it counted.{(last.Files.Count > 0 ? " Check the copies with sha256sum." : string.Empty)}");
        page.List([.. contents.DeliveryRemarks]);
        page.Raw("<ul class=\"sum\">");
        foreach (ManifestFile file in last.Files)
        {
            page.Raw($"<li><b>{Html.Escaped(file.Name)}</b><br>{file.SampleRate} Hz, {file.Bits} bits, {Html.Number(file.IntegratedLufs, 1)} LUFS, {Html.Number(file.TruePeakDbtp, 2)} dBTP<br>{Html.Escaped(file.Sha256)}</li>");
        }

        page.Raw("</ul></section>");
    }
}
