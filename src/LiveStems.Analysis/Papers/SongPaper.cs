using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Headroom;
using LiveStems.Analysis.Intake;

namespace LiveStems.Analysis.Papers;

/// <summary>The part of a paper about one song.</summary>
internal static class SongPaper
{
    private const double SpanLu = 30;
    private const double LargestDb = 12;
    private const int MostPoints = 400;

    private static readonly (double Hz, string Label)[] FrequencyMarks = [(50, "50"), (100, "100"), (200, "200"), (500, "500"), (1000, "1k"), (2000, "2k"), (5000, "5k"), (10_000, "10k")];

    public static void Write(Html page, PaperContents contents, int index)
    {
        Song song = contents.Album.Songs[index];
        SongFigures figures = contents.Balance.Songs[index];
        DeliveryTargets targets = song.Targets ?? contents.Album.Targets;
        page.Raw("<section class=\"song\">").Element("h2", $"{index + 1}. {song.Title}");
        page.Element("p", Facts(song, figures));
        page.Raw("<div class=\"charts\"><figure>").Raw(Loudness(figures, targets).ToString())
            .Element("figcaption", $"Loudness over time in LUFS: short-term (3 s, dark) and momentary (pale){(targets.IntegratedLufs is null ? string.Empty : "; dashed: the target for the whole song")}.")
            .Raw("</figure><figure>").Raw(Spectrum(contents.Balance, figures).ToString())
            .Element("figcaption", "Spectrum against the album's middle song at equal loudness, in dB by third octaves.").Raw("</figure></div>");
        Heading(page, "What could change", BalanceAdvice.For(contents.Balance, figures, targets));
        Corrections(page, contents, song);
        if (contents.Accounts.FirstOrDefault(account => account.Song == song.Title) is { } account)
        {
            Account(page, account);
        }

        Intake(page, contents, song);
        if (contents.HasNotes)
        {
            Heading(page, "Notes", [.. song.Notes.Select(note => note.AtSeconds is { } at ? $"{Html.Length(at)} – {note.Text}" : note.Text)]);
        }

        Heading(page, "Changed since the last delivery", [.. contents.Changes.Where(change => change.Song == song.Title).Select(change => change.Said)]);
        page.Raw("</section>");
    }

    private static void Heading(Html page, string heading, IReadOnlyCollection<string> items)
    {
        if (items.Count > 0)
        {
            page.Element("h3", heading).List(items);
        }
    }

    private static string Facts(Song song, SongFigures figures)
    {
        string code = song.Isrc.Length > 0 ? $" ISRC {Isrc.Written(song.Isrc)}." : string.Empty;
        string edges = song.Edges == SongEdges.Usual ? string.Empty : $" On the album: {EdgeWords.Of(song.Edges)}.";
        return $"{Html.Length(figures.Seconds)} long, {AlbumWords.State[song.State]}. "
            + $"Integrated loudness {Html.Number(figures.Loudness.IntegratedLufs, 1)} LUFS, range {Html.Number(figures.Loudness.LoudnessRangeLu, 1)} LU, "
            + $"true peak {Html.Number(figures.Loudness.TruePeakDbtp, 2)} dBTP, peak-to-loudness ratio {Html.Number(figures.PeakToLoudnessLu, 1)} LU, "
            + $"loudest three seconds {Html.Number(figures.Loudness.MaximumShortTermLufs, 1)} LUFS.{code}{edges}";
    }

    private static SvgChart Loudness(SongFigures figures, DeliveryTargets targets)
    {
        double loudest = Math.Max(figures.Loudness.MaximumMomentaryLufs, targets.IntegratedLufs ?? double.NegativeInfinity);
        double highest = double.IsFinite(loudest) ? Math.Ceiling((loudest + 1) / 5) * 5 : 0;
        double seconds = Math.Max(figures.Seconds, 1);
        SvgChart chart = new($"Loudness over time of {figures.Title}", highest - SpanLu, highest, 0, seconds, isLogarithmic: false);
        for (double level = highest; level >= highest - SpanLu; level -= 10)
        {
            chart.MarkUp(level, Html.Number(level, 0));
        }

        double step = new double[] { 10, 15, 30, 60, 120, 300, 600, 1800, 3600 }.FirstOrDefault(each => seconds / each <= 6, 7200);
        for (double at = 0; at <= seconds; at += step)
        {
            chart.MarkAcross(at, Html.Length(at));
        }

        int every = Math.Max(1, figures.Timeline.Points.Count / MostPoints);
        chart.Line(figures.Timeline.Points.Where((_, i) => i % every == 0).Select(point => (point.Seconds, point.MomentaryLufs)), "m");
        chart.Line(figures.Timeline.Points.Where((_, i) => i % every == 0).Select(point => (point.Seconds, point.ShortTermLufs)), "a");
        if (targets.IntegratedLufs is { } wanted)
        {
            chart.Level(wanted);
        }

        chart.Foot("minutes:seconds");
        return chart;
    }

    private static SvgChart Spectrum(AlbumBalance album, SongFigures figures)
    {
        SvgChart chart = new($"Spectrum of {figures.Title} against the album", -LargestDb, LargestDb, 31.5, 16_000, isLogarithmic: true);
        foreach (double level in (double[])[-12, -6, 0, 6, 12])
        {
            chart.MarkUp(level, Html.Number(level, 0, signed: true));
        }

        foreach ((double hz, string label) in FrequencyMarks)
        {
            chart.MarkAcross(hz, label);
        }

        Dictionary<double, double> middle = album.MedianCurve.ToDictionary(point => point.Hz, point => point.Db);
        chart.Line(figures.Curve.Select(point => (point.Hz, point.Db - middle[point.Hz])), "b");
        chart.Foot("Hz");
        return chart;
    }

    private static void Corrections(Html page, PaperContents contents, Song song)
    {
        page.Element("h3", "What was done");
        IReadOnlyList<Correction> corrections = Correction.Of(song, contents.Catalogue);
        if (corrections.Count == 0)
        {
            page.Element("p", "Nothing: the song is as it was mixed.");
            return;
        }

        page.Raw("<ul>");
        foreach (Correction each in corrections)
        {
            string why = each.Reason.Length > 0 ? $"<span class=\"why\">{Html.Escaped(each.Reason)}.</span> " : string.Empty;
            string settings = each.Settings.Count > 0 ? $"<span class=\"quiet\">{Html.Escaped(string.Join(" · ", each.Settings))}</span>" : string.Empty;
            page.Raw($"<li><b>{Html.Escaped(char.ToUpperInvariant(each.Place[0]) + each.Place[1..])}</b>, {Html.Escaped(LowerFirst(each.Processor))}{(each.IsBypassed ? " (off)" : string.Empty)}: {why}{settings}</li>");
        }

        page.Raw("</ul>");
    }

    private static string LowerFirst(string name) => name.Length > 1 && char.IsLower(name[1]) ? char.ToLowerInvariant(name[0]) + name[1..] : name;

    private static void Account(Html page, HeadroomReport account)
    {
        page.Element("h3", "Headroom account");
        page.Element("p", "How much louder the song comes out with each correction than without it, for the same work of the limiter. The lines need not add up.");
        page.Table(
            ["left out", "bought LU", "before the limiter dBTP", "mean reduction dB"],
            account.Rows.Select(row => (IReadOnlyList<string>)
            [
                row.Subject.Words + (row.Subject.Kind == HeadroomSubjectKind.WholeStem ? ", everything" : string.Empty),
                Html.Number(row.BoughtDb, 2, signed: true), Html.Number(row.LeftOut.TruePeakDbtp, 1), Html.Number(row.LeftOut.MeanReductionDb, 2),
            ]).Prepend(["nothing", "–", Html.Number(account.AllIn.TruePeakDbtp, 1), Html.Number(account.AllIn.MeanReductionDb, 2)]));
    }

    private static void Intake(Html page, PaperContents contents, Song song)
    {
        if (contents.Intake is { } intake)
        {
            IntakeFinding[] findings = [.. intake.Findings.Where(finding => finding.Song == song.Title
                && (finding.Rank != FindingRank.Note || IntakeAnswers.To(contents.Album, finding) is not null))];
            page.Element("h3", "What arrived");
            if (findings.Length == 0)
            {
                page.Element("p", "The stems fit together; nothing has to be asked.");
                return;
            }

            page.Raw("<ul>");
            foreach (IntakeFinding finding in findings)
            {
                // Once it is answered the question has done its work.
                string asked = IntakeAnswers.To(contents.Album, finding) is { } answer ? $"<br><b>Answer:</b> {Html.Escaped(answer.Text)}"
                    : finding.Request.Length > 0 ? $"<br><b>Open:</b> {Html.Escaped(finding.Request)}" : string.Empty;
                page.Raw($"<li>{(finding.Stem is null ? string.Empty : $"{Html.Escaped(finding.Stem)}: ")}{Html.Escaped(finding.Text)}{asked}</li>");
            }

            page.Raw("</ul>");
        }
    }
}
