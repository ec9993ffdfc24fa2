using System.Buffers;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Caching;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Delivery;

/// <summary>A delivery that was made, with the album as it was then.</summary>
/// <param name="Folder">Where its files were put.</param>
/// <param name="Number">Its number there.</param>
/// <param name="FinishedAt">When it was done.</param>
/// <param name="Album">All settings of the album.</param>
public sealed record LoggedDelivery(string Folder, int Number, DateTimeOffset FinishedAt, Album Album)
{
    /// <summary>The date its files tell of songs that were new in it; null in logs of earlier programs.</summary>
    public DateOnly? Date { get; init; }
}

/// <summary>
/// Remembers what was delivered: one small file a delivery in the folder <c>deliveries</c> of the album. It stays with the
/// engineer; the client's folder holds none of the settings.
/// </summary>
public static class DeliveryLog
{
    /// <summary>Folder of the log in the album's folder.</summary>
    public const string FolderName = "deliveries";

    private const int Schema = 1;
    private const string SchemaField = "deliverySchema";
    private const string DateField = "date";
    private const string DateForm = "yyyy-MM-dd";

    private static readonly JsonWriterOptions Form = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Notes a delivery; one that is noted already is written again.</summary>
    /// <exception cref="IOException">The album's folder can't be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be.</exception>
    public static void Add(Album album, string albumFolder, string folder, int number, ProcessorCatalogue catalogue, DateOnly? date = null)
    {
        string full = Path.GetFullPath(folder);
        string log = Path.Combine(albumFolder, FolderName);
        Directory.CreateDirectory(log);
        ArrayBufferWriter<byte> text = new();
        using (Utf8JsonWriter json = new(text, Form))
        {
            json.WriteStartObject();
            json.WriteNumber(SchemaField, Schema);
            json.WriteString("folder", full);
            json.WriteNumber("delivery", number);
            json.WriteString("finishedAt", DateTimeOffset.UtcNow);
            if (date is { } day)
            {
                json.WriteString(DateField, day.ToString(DateForm, CultureInfo.InvariantCulture));
            }

            json.WritePropertyName("album");
            json.WriteRawValue(AlbumFile.ToBytes(album, AlbumFile.Name, catalogue));
            json.WriteEndObject();
        }

        string path = Path.Combine(log, $"{number:0000} {SettingsDigest.Of(full)[..8]}.json");
        SafeFile.Replace(path, text.WrittenSpan);
    }

    /// <summary>All deliveries, the oldest first.</summary>
    /// <exception cref="AlbumException">A file of the log does not read.</exception>
    public static IReadOnlyList<LoggedDelivery> List(string albumFolder, ProcessorCatalogue catalogue)
    {
        string log = Path.Combine(albumFolder, FolderName);
        return Directory.Exists(log)
            ? [.. Directory.EnumerateFiles(log, "*.json").Select(path => Read(path, catalogue)).OrderBy(delivery => delivery.FinishedAt)]
            : [];
    }

    /// <summary>The delivery with a number; of several in different folders, the one in <paramref name="root"/>, where it may have been moved to.</summary>
    /// <exception cref="DeliveryException">There is none, or several.</exception>
    public static LoggedDelivery Find(IReadOnlyList<LoggedDelivery> log, int number, string? root)
    {
        LoggedDelivery[] fitting = [.. log.Where(delivery => delivery.Number == number && (root is null || IsIn(delivery.Folder, root)))];
        if (fitting.Length == 0 && root is not null && log.Where(delivery => delivery.Number == number).ToArray() is [var moved] && MovedTo(moved, root) is { } there)
        {
            return moved with { Folder = there };
        }

        return fitting.Length switch
        {
            1 => fitting[0],
            0 => throw new DeliveryException($"there is no delivery {number}{(root is null ? string.Empty : $" in {root}")}; {Known(log)}"),
            _ => throw new DeliveryException($"there are several deliveries {number}; say which folder with --in: {string.Join(", ", fitting.Select(delivery => Path.GetDirectoryName(delivery.Folder)))}"),
        };
    }

    private static string? MovedTo(LoggedDelivery delivery, string root)
    {
        string there = Path.Combine(Path.GetFullPath(root), Path.GetFileName(delivery.Folder));
        return Directory.Exists(there) && !Directory.Exists(delivery.Folder) ? there : null;
    }

    private static string Known(IReadOnlyList<LoggedDelivery> log) => log.Count == 0
        ? "'livestems render ALBUM --out FOLDER --format archive' makes one"
        : $"there are {string.Join(", ", log.Select(delivery => delivery.Folder))}";

    private static bool IsIn(string folder, string root) => Path.GetDirectoryName(folder) == Path.TrimEndingDirectorySeparator(Path.GetFullPath(root));

    private static LoggedDelivery Read(string path, ProcessorCatalogue catalogue)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
            JsonElement root = document.RootElement;
            if (root.GetProperty(SchemaField).GetInt32() > Schema)
            {
                throw new AlbumException($"{path}: was written by a newer LiveStems; update this one");
            }

            byte[] album = System.Text.Encoding.UTF8.GetBytes(root.GetProperty("album").GetRawText());
            return new LoggedDelivery(
                root.GetProperty("folder").GetString()!, root.GetProperty("delivery").GetInt32(), root.GetProperty("finishedAt").GetDateTimeOffset(), AlbumFile.Parse(album, path, catalogue))
            {
                Date = root.TryGetProperty(DateField, out JsonElement date) ? DateOnly.ParseExact(date.GetString()!, DateForm, CultureInfo.InvariantCulture) : null,
            };
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{path}: is no note of a delivery: {fault.Message}", fault);
        }
    }
}
