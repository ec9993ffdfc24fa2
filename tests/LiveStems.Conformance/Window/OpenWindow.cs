using System.Diagnostics;
using System.Text.Json;
using Xunit;

namespace LiveStems.Conformance.Window;

/// <summary>The program with its window open on a display, and the lines it writes about its state.</summary>
internal sealed class OpenWindow : IDisposable
{
    // Far longer than anything takes; only what will never come is given up.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(120);

    private readonly VirtualDisplay display;
    private readonly Process process;
    private readonly Task<string> errors;
    private JsonElement state;

    public OpenWindow(VirtualDisplay display, string configuration, params string[] arguments)
    {
        this.display = display;
        process = Process.Start(Start(display.Name, configuration, arguments))!;
        errors = process.StandardError.ReadToEndAsync();
    }

    /// <summary>How the program is started as a process of its own.</summary>
    public static ProcessStartInfo Start(string? display, string configuration, params string[] arguments)
    {
        string program = Path.Combine(AppContext.BaseDirectory, "livestems.dll");
        ProcessStartInfo start = new("dotnet", ["exec", program, .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["XDG_CONFIG_HOME"] = configuration;
        start.Environment["LIBGL_ALWAYS_SOFTWARE"] = "1";
        start.Environment.Remove("WAYLAND_DISPLAY");
        start.Environment.Remove("DISPLAY");
        if (display is not null)
        {
            start.Environment["DISPLAY"] = display;
        }

        return start;
    }

    /// <summary>Reads on until the state is as wanted, and returns it.</summary>
    public JsonElement WaitFor(string what, Func<JsonElement, bool> isWanted)
    {
        using CancellationTokenSource patience = new(Patience);
        while (state.ValueKind == JsonValueKind.Undefined || !isWanted(state))
        {
            string? line;
            try
            {
                line = process.StandardOutput.ReadLineAsync(patience.Token).AsTask().GetAwaiter().GetResult();
            }
            catch (OperationCanceledException)
            {
                line = null;
            }

            if (line is null)
            {
                Assert.Fail($"never saw: {what}; last state {state}; {(process.HasExited ? errors.Result : "still runs")}");
            }

            state = JsonDocument.Parse(line).RootElement;
        }

        return state;
    }

    /// <summary>Gives the window the keyboard, as a window manager would.</summary>
    public void Focus() => display.Send("search", "--sync", "--name", "LiveStems", "windowfocus", "--sync");

    public void Type(string text) => display.Send("type", "--delay", "30", "--", text);

    public void Press(string key) => display.Send("key", key);

    public void Drag((float X, float Y) from, (float X, float Y) to) => display.Send(
        "mousemove", At(from.X), At(from.Y), "mousedown", "1", "mousemove", At((from.X + to.X) / 2), At(to.Y), "mousemove", At(to.X), At(to.Y), "mouseup", "1");

    /// <summary>Drags without letting go.</summary>
    public void Hold((float X, float Y) from, (float X, float Y) to) => display.Send(
        "mousemove", At(from.X), At(from.Y), "mousedown", "1", "mousemove", At((from.X + to.X) / 2), At(to.Y), "mousemove", At(to.X), At(to.Y));

    public void LetGo() => display.Send("mouseup", "1");

    /// <summary>Presses at a place and lets go.</summary>
    public void Click(float x, float y) => display.Send("mousemove", At(x), At(y), "click", "1");

    /// <summary>Adds a processor to the chosen chain by hand; then there are so many.</summary>
    public void AddProcessor(string processor, int count)
    {
        Press("a");
        WaitFor("the processors are listed", state => state.GetProperty("overlays").GetInt32() == 1);
        Type(processor);
        Press("Return");
        WaitFor($"{processor} is there", state => state.GetProperty("overlays").GetInt32() == 0 && state.GetProperty("order").GetArrayLength() == count);
    }

    /// <summary>The numbers of a part of the state.</summary>
    public static float[] Numbers(JsonElement state, string name) => [.. state.GetProperty(name).EnumerateArray().Select(each => each.GetSingle())];

    /// <summary>Waits until the program has ended without a word on standard error; returns its exit code.</summary>
    public int WaitForExit()
    {
        (int exitCode, string said) = WaitForEnd();
        Assert.Equal(string.Empty, said);
        return exitCode;
    }

    /// <summary>Waits until the program has ended; returns its exit code and what it said on standard error.</summary>
    public (int ExitCode, string Errors) WaitForEnd()
    {
        _ = process.StandardOutput.ReadToEndAsync();
        Assert.True(process.WaitForExit(Patience), "the window did not close");
        return (process.ExitCode, errors.Result);
    }

    public void Dispose()
    {
        if (!process.HasExited)
        {
            process.Kill();
            process.WaitForExit();
        }

        process.Dispose();
    }

    private static string At(float units) => $"{Math.Round(units)}";
}
