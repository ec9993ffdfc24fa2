using System.Text.Json;
using LiveStems.Files.Reading;
using Xunit;

namespace LiveStems.Conformance.Window;

/// <summary>What real keys on the real window do to the sound.</summary>
public sealed class WindowHandsTests : IDisposable
{
    private const string Silent = "silent";

    private readonly WindowAlbum files = new();

    public void Dispose() => files.Dispose();

    [Fact]
    public void AValueOfAProcessorIsChangedByKeysAndTheEngineHasIt()
    {
        files.Make("Low Tide");
        using VirtualDisplay display = new();
        using OpenWindow window = new(display, files.Settings, "open", files.Album, "--device", Silent, "--size", "1280x800", "--trace", "--stem", "Bass", "--play");
        window.WaitFor("it plays", state => state.GetProperty("positionSeconds").GetDouble() > 0);
        window.Focus();
        window.AddProcessor("compressor", 1);
        JsonElement there = window.WaitFor("it runs and its threshold has its place", state => EngineValue(state, "thresholdDb") is not null && BoxOf(state, "Threshold") is { Length: 4 });
        double before = EngineValue(there, "thresholdDb")!.Value;
        float[] box = BoxOf(there, "Threshold")!;
        window.Click(box[0] + box[2] - 20, box[1] + box[3] / 2);
        window.WaitFor("it has the keyboard", state => state.GetProperty("focus").ValueKind == JsonValueKind.Array && OpenWindow.Numbers(state, "focus").SequenceEqual(box));

        window.Press("Down");
        window.WaitFor("the engine has one step less", state => EngineValue(state, "thresholdDb") < before);
        foreach (string key in (string[])["minus", "3", "1", "period", "5", "Return"])
        {
            window.Press(key);
        }

        window.WaitFor("the engine has what was typed", state => EngineValue(state, "thresholdDb") == -31.5);
        window.Press("ctrl+z");
        window.WaitFor("it is undone", state => EngineValue(state, "thresholdDb") > -31.5);
        window.Press("ctrl+q");
        Assert.Equal(0, window.WaitForExit());
    }

    [Fact]
    public void TheWholeAlbumIsHeardAndRecordedByKeys()
    {
        files.Make("Low Tide", "Spring Tide");
        using VirtualDisplay display = new();
        using OpenWindow window = new(display, files.Settings, "open", files.Album, "--device", Silent, "--size", "1280x800", "--trace", "--play");
        window.WaitFor("it plays", state => state.GetProperty("positionSeconds").GetDouble() > 0);
        window.Focus();
        window.Press("shift+r");
        window.WaitFor("it is recorded", state => RecordedSeconds(state) > 0.2);
        window.Press("shift+a");
        window.WaitFor("the whole album is heard", state => state.GetProperty("isWholeAlbum").GetBoolean());
        window.Press("End");
        window.WaitFor("the next song is heard and shown", state => state.GetProperty("song").GetString() == "Spring Tide" && state.GetProperty("positionSeconds").GetDouble() > 0);
        string first = window.WaitFor("it is still recorded", state => RecordedSeconds(state) > 0.2).GetProperty("recordingFile").GetString()!;
        window.Press("shift+r");
        window.WaitFor("the file is complete", state => state.GetProperty("said").GetString()?.StartsWith("recorded ", StringComparison.Ordinal) == true);
        AssertIsSound(first);

        window.Press("shift+r");
        string second = window.WaitFor("another is recorded", state => RecordedSeconds(state) > 0.5).GetProperty("recordingFile").GetString()!;
        Assert.NotEqual(first, second);
        window.Press("ctrl+q");
        Assert.Equal(0, window.WaitForExit());
        AssertIsSound(second);
    }

    private static double? RecordedSeconds(JsonElement state) =>
        state.GetProperty("recording") is { ValueKind: JsonValueKind.Number } seconds ? seconds.GetDouble() : null;

    private static double? EngineValue(JsonElement state, string id) =>
        state.GetProperty("engineValues") is { ValueKind: JsonValueKind.Object } values && values.TryGetProperty(id, out JsonElement value) ? value.GetDouble() : null;

    private static float[]? BoxOf(JsonElement state, string name) => state.GetProperty("values").EnumerateArray()
        .Where(each => each.GetProperty("name").GetString() == name && OpenWindow.Numbers(each, "box")[2] > 0)
        .Select(each => OpenWindow.Numbers(each, "box"))
        .FirstOrDefault();

    private static void AssertIsSound(string path)
    {
        using IAudioReader reader = AudioFile.Open(path);
        float[] left = new float[reader.Info.Frames];
        float[] right = new float[left.Length];
        Assert.Equal(left.Length, reader.Read(left, right));
        Assert.True(left.Length > 0 && left.Max(MathF.Abs) > 0, path);
    }
}
