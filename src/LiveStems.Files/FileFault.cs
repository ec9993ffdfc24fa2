using System.Globalization;
using System.Text;

namespace LiveStems.Files;

/// <summary>Words a fault of a file as one line: the file, what is wrong, and how to mend it.</summary>
internal static class FileFault
{
    /// <summary>The exception for a fault that we found ourselves.</summary>
    internal static AudioFileException Of(string path, string fault) => new($"{OneLine(path)}: {OneLine(fault)}");

    /// <summary>The exception for a fault that the system reported.</summary>
    internal static AudioFileException Of(string path, string fault, Exception cause) =>
        new($"{OneLine(path)}: {OneLine(fault)}", cause);

    /// <summary>The exception for a file that the system does not let us open or read.</summary>
    internal static AudioFileException OfReading(string path, Exception cause) => Of(path, WhyUnreadable(path, cause), cause);

    /// <summary>A moment of a file, to the microsecond.</summary>
    internal static string Seconds(long frame, int sampleRate) =>
        ((double)frame / sampleRate).ToString("0.000###", CultureInfo.InvariantCulture) + " s";

    private static string WhyUnreadable(string path, Exception cause) => cause switch
    {
        _ when Directory.Exists(path) => "is a folder; name a sound file in it",
        FileNotFoundException or DirectoryNotFoundException => "is not there; check the name, or whether the disk is connected",
        UnauthorizedAccessException => "may not be read; give yourself the right to read it",
        ArgumentException => "is not a name that a file can have; check the name",
        PathTooLongException => "has too long a name; move it to a shorter path",
        NotSupportedException => "is a pipe or a device; copy the sound into a file first",
        _ => $"cannot be read ({cause.Message}); check the disk or the connection",
    };

    /// <summary>The text without line breaks and other control characters, which a file's name may hold.</summary>
    private static string OneLine(string text)
    {
        if (!text.Any(char.IsControl))
        {
            return text;
        }

        StringBuilder line = new(text.Length);
        foreach (char character in text)
        {
            line.Append(char.IsControl(character) ? '�' : character);
        }

        return line.ToString();
    }
}
