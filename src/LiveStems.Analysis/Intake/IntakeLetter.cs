using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Intake;

/// <summary>The questions to the mix engineer, ready to be mailed.</summary>
public static class IntakeLetter
{
    /// <summary>The lines of the letter: what must be cleared or asked about and is not answered yet.</summary>
    /// <param name="report">What the check found.</param>
    /// <param name="album">Knows the answers; null where there is no album yet.</param>
    public static IReadOnlyList<string> Lines(IntakeReport report, Album? album)
    {
        string[] asked =
        [
            .. report.Findings
                .Where(finding => finding.Request.Length > 0 && finding.Rank != FindingRank.Note && (album is null || IntakeAnswers.To(album, finding) is null))
                .Select(finding => "– " + finding.Request),
        ];
        return asked.Length == 0
            ? ["Thank you for the stems: everything arrived in order."]
            : ["Thank you for the stems. Before I go on:", .. asked];
    }
}
