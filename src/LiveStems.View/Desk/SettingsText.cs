using System.Buffers;
using System.Text.Json;

namespace LiveStems.View.Desk;

/// <summary>
/// The settings as the text of their file. Read and written by hand: finding the fields by reflection would compile some
/// 200 methods before the window is there.
/// </summary>
internal static class SettingsText
{
    private static readonly JsonWriterOptions Form = new() { Indented = true };

    /// <summary>Reads the text; null where it lacks a part that cannot be lacking.</summary>
    /// <exception cref="JsonException">It is no JSON.</exception>
    /// <exception cref="InvalidOperationException">A value is of another kind than it must be.</exception>
    /// <exception cref="FormatException">A number or a date is none.</exception>
    public static DeskSettings? Read(ReadOnlyMemory<byte> text)
    {
        using JsonDocument document = JsonDocument.Parse(text);
        JsonElement root = document.RootElement;
        if (IsNull(root) || IsNull(Of(root, "window")) || IsNull(Of(root, "recent")))
        {
            return null;
        }

        DeskSettings first = DeskSettings.AtFirst;
        return new DeskSettings
        {
            Window = Of(root, "window") is { } window ? Window(window) : first.Window,
            Recent = Of(root, "recent") is { } recent ? [.. recent.EnumerateArray().Where(album => !IsNull(album)).Select(Album)] : first.Recent,
            Device = Of(root, "device")?.GetString(),
            BufferFrames = Of(root, "bufferFrames")?.GetInt32() ?? first.BufferFrames,
            FullScaleDbA = Of(root, "fullScaleDbA") is { } level && !IsNull(level) ? level.GetDouble() : null,
        };
    }

    /// <summary>The text of settings.</summary>
    public static byte[] Write(DeskSettings settings)
    {
        ArrayBufferWriter<byte> text = new();
        using (Utf8JsonWriter json = new(text, Form))
        {
            json.WriteStartObject();
            Write(json, settings.Window);
            json.WriteStartArray("recent");
            foreach (RecentAlbum album in settings.Recent)
            {
                json.WriteStartObject();
                json.WriteString("folder", album.Folder);
                json.WriteString("title", album.Title);
                json.WriteString("openedAt", album.OpenedAt);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteString("device", settings.Device);
            json.WriteNumber("bufferFrames", settings.BufferFrames);
            Write(json, "fullScaleDbA", settings.FullScaleDbA);
            json.WriteEndObject();
        }

        return text.WrittenSpan.ToArray();
    }

    private static WindowState Window(JsonElement window)
    {
        WindowState first = WindowState.AtFirst;
        return new WindowState(
            Edge(Of(window, "x")),
            Edge(Of(window, "y")),
            Of(window, "width")?.GetInt32() ?? first.Width,
            Of(window, "height")?.GetInt32() ?? first.Height,
            Of(window, "isMaximised")?.GetBoolean() ?? first.IsMaximised,
            Of(window, "scalePercent")?.GetInt32() ?? first.ScalePercent,
            string.Equals(Of(window, "shade")?.GetString(), "light", StringComparison.OrdinalIgnoreCase) ? DeskShade.Light : DeskShade.Dark);
    }

    private static void Write(Utf8JsonWriter json, WindowState window)
    {
        json.WriteStartObject("window");
        Write(json, "x", window.X);
        Write(json, "y", window.Y);
        json.WriteNumber("width", window.Width);
        json.WriteNumber("height", window.Height);
        json.WriteBoolean("isMaximised", window.IsMaximised);
        json.WriteNumber("scalePercent", window.ScalePercent);
        json.WriteString("shade", window.Shade == DeskShade.Light ? "light" : "dark");
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number)
        {
            json.WriteNumber(name, number);
        }
        else
        {
            json.WriteNull(name);
        }
    }

    private static RecentAlbum Album(JsonElement album) => new(
        Of(album, "folder")?.GetString() ?? string.Empty, Of(album, "title")?.GetString() ?? string.Empty, Of(album, "openedAt")?.GetDateTimeOffset() ?? default);

    private static JsonElement? Of(JsonElement element, string name) => element.TryGetProperty(name, out JsonElement value) ? value : null;

    private static int? Edge(JsonElement? edge) => edge is { } there && !IsNull(there) ? there.GetInt32() : null;

    private static bool IsNull(JsonElement? element) => element is { ValueKind: JsonValueKind.Null };
}
