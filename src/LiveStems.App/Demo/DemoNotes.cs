using System.Globalization;
using System.Text;

namespace LiveStems.App.Demo;

/// <summary>The demo album's notes: who plays, what each song wants, what is wrong with which stem.</summary>
internal static class DemoNotes
{
    public static string Text()
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{DemoAlbum.Artist}: {DemoAlbum.Title}");
        text.AppendLine().AppendLine(DemoAlbum.Story);
        foreach (DemoSong song in DemoAlbum.Songs)
        {
            text.AppendLine();
            text.AppendLine(
                CultureInfo.InvariantCulture,
                $"{song.Title} ({song.Tempo:0} beats a minute, {song.SampleRate / 1000.0:0.0} kHz, {Time(song.Form.Seconds)})");
            text.AppendLine(song.Story);
            foreach (Score.Section section in song.Form.Sections)
            {
                text.AppendLine(CultureInfo.InvariantCulture, $"    {Time(song.Form.StartOf(section.Name))}  {section.Name}");
            }

            text.AppendLine("What is wrong:");
            foreach (DemoFault fault in song.Faults)
            {
                string place = string.Create(
                    CultureInfo.InvariantCulture,
                    $"{fault.LowHz:0} to {fault.HighHz:0} Hz, {Time(fault.StartSeconds)} to {Time(fault.EndSeconds)}");
                text.AppendLine(CultureInfo.InvariantCulture, $"    {fault.Stem}: {fault.Text}; {place}");
            }
        }

        return text.ToString().ReplaceLineEndings("\n");
    }

    private static string Time(double seconds) =>
        string.Create(CultureInfo.InvariantCulture, $"{(int)seconds / 60}:{seconds % 60:00.0}");
}
