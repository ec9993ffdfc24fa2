using System.Text.Json;
using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Intake;

/// <summary>Answers to findings, as the album keeps them: one for each stem and kind of finding, so that a later check finds them again.</summary>
public static class IntakeAnswers
{
    /// <summary>The answer to a finding; null where there is none.</summary>
    public static IntakeAnswer? To(Album album, IntakeFinding finding) =>
        album.Songs.FirstOrDefault(song => song.Title == finding.Song)?.Answers.FirstOrDefault(answer => IsAbout(answer, finding));

    /// <summary>The album with a finding answered; without its answer for an empty text.</summary>
    public static Album Answer(Album album, IntakeFinding finding, string text)
    {
        int index = album.Songs.ToList().FindIndex(song => song.Title == finding.Song);
        Song song = album.Songs[index];
        int place = song.Answers.ToList().FindIndex(answer => IsAbout(answer, finding));
        IntakeAnswer answer = new(finding.Stem, Word(finding.Kind), text.Trim());
        return album with
        {
            Songs = album.Songs.SetItem(index, song with
            {
                Answers = answer.Text.Length == 0 ? (place < 0 ? song.Answers : song.Answers.RemoveAt(place))
                    : place < 0 ? song.Answers.Add(answer)
                    : song.Answers.SetItem(place, answer with { Unknown = song.Answers[place].Unknown }),
            }),
        };
    }

    private static bool IsAbout(IntakeAnswer answer, IntakeFinding finding) => answer.Stem == finding.Stem && answer.Finding == Word(finding.Kind);

    private static string Word(FindingKind kind) => JsonNamingPolicy.CamelCase.ConvertName(kind.ToString());
}
