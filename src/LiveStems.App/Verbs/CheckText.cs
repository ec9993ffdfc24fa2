using LiveStems.Albums.Model;
using LiveStems.Analysis.Intake;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>The intake check in words.</summary>
internal static class CheckText
{
    /// <summary>Tables of what was measured, then the findings.</summary>
    public static void Write(TextWriter output, IntakeReport report, Album? album)
    {
        foreach (SongFacts song in report.Songs)
        {
            output.WriteLine(song.Title);
            Measured(song).WriteTo(output);
            output.WriteLine();
        }

        if (report.Findings.Count == 0)
        {
            output.WriteLine("Nothing was found: the delivery is complete and in order.");
            return;
        }

        int number = 0;
        foreach (IGrouping<FindingRank, IntakeFinding> rank in report.Findings.GroupBy(finding => finding.Rank))
        {
            output.WriteLine(Heading(rank.Key));
            foreach (IntakeFinding finding in rank)
            {
                output.WriteLine($"  {++number}. {finding.Song}{(finding.Stem is null ? string.Empty : $" / {finding.Stem}")} {finding.Text}");
                if (AnswerTo(album, finding) is { } answer)
                {
                    output.WriteLine($"     Answer: {answer.Text}");
                }
            }

            output.WriteLine();
        }

        int questions = report.Findings.Count(finding => finding.Rank != FindingRank.Note && finding.Request.Length > 0 && AnswerTo(album, finding) is null);
        output.WriteLine(questions == 0 ? "No open questions to the mix engineer." : $"{questions} {(questions == 1 ? "question" : "questions")} to the mix engineer: --letter writes them ready to be mailed.");
    }

    /// <summary>What to ask the mix engineer for.</summary>
    public static void WriteLetter(TextWriter output, IntakeReport report, Album? album)
    {
        foreach (string line in IntakeLetter.Lines(report, album))
        {
            output.WriteLine(line);
        }
    }

    private static IntakeAnswer? AnswerTo(Album? album, IntakeFinding finding) => album is null ? null : IntakeAnswers.To(album, finding);

    private static string Heading(FindingRank rank) => rank switch
    {
        FindingRank.Stop => "Stop: to be cleared before the work begins",
        FindingRank.Look => "Look: to be listened to, and asked about when in doubt",
        _ => "Note: good to know",
    };

    private static TextTable Measured(SongFacts song)
    {
        TextTable table = new("file", "length", "rate Hz", "bits", "used", "LUFS", "dBTP", "DC dBFS", "L−R dB", "corr.", "floor dBFS", "late", "gain dB");
        for (int i = 0; i < song.Stems.Count; i++)
        {
            Row(table, song.Stems[i], song.Mix?.Stems[i]);
        }

        if (song.RoughMix is { } mix)
        {
            Row(table, mix, null);
        }

        return table;
    }

    private static void Row(TextTable table, SongFile file, StemInMix? place)
    {
        if (file.Facts is not { } facts)
        {
            table.Add(file.File.Name, "–", "–", "–", "–", "–", "–", "–", "–", "–", "–", "–", "–");
            return;
        }

        double offset = Math.Max(Math.Abs(facts.Offset.Left), Math.Abs(facts.Offset.Right));
        bool isStereo = facts.Info.Channels == 2;
        table.Add(
            file.File.IsRoughMix ? $"({file.File.Name})" : file.File.Name,
            Numbers.Length(facts.Info.Seconds),
            facts.Info.SampleRate.ToString(),
            facts.Info.BitsPerSample.ToString(),
            facts.UsedBits?.ToString() ?? ">24",
            Numbers.Text(facts.IntegratedLufs, 1),
            Numbers.Text(facts.TruePeakDbtp, 1),
            Numbers.Text(20 * Math.Log10(offset), 0),
            Numbers.Text(isStereo ? facts.LevelDbfs.Left - facts.LevelDbfs.Right : double.NaN, 1),
            Numbers.Text(isStereo ? facts.Correlation : double.NaN, 2),
            Numbers.Text(facts.FloorDbfs, 0),
            place is { IsFound: true } ? Numbers.Text(place.LateFrames, 2) : "–",
            Numbers.Text(place is { IsFound: true } ? place.GainDb : double.NaN, 2));
    }
}
