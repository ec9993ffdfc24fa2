using System.CommandLine;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;
using LiveStems.View.Desk;
using LiveStems.View.Screens;

namespace LiveStems.App.Verbs;

/// <summary><c>open</c>: the window.</summary>
internal static class OpenVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> song = CommonOptions.Song();
        Option<string?> stem = new("--stem") { Description = "The stem to begin with." };
        Option<string?> device = new("--device") { Description = "A device by number or part of its name, or 'silent'; see 'livestems devices'." };
        Option<int?> buffer = new("--buffer") { Description = "Frames the device asks for at a time, 32 to 4096." };
        Option<bool> play = new("--play") { Description = "Play at once." };
        Option<string?> screenshot = new("--screenshot") { Description = "Write a picture of the window to a PNG file when it closes." };
        Option<double?> seconds = new("--seconds") { Description = "Close by itself after so long." };
        Option<string?> size = new("--size") { Description = "Size of the window, WIDTHxHEIGHT." };
        Option<int?> scale = new("--scale") { Description = "Size of everything in per cent, 100 to 300." };
        Option<bool> light = new("--light") { Description = "Dark signs on light ground." };
        Option<bool> dark = new("--dark") { Description = "Light signs on dark ground." };
        Option<bool> times = new("--frame-times") { Description = "Say at the end how fast the pictures came." };
        Option<string?> drawer = new("--drawer") { Description = "The drawer to begin with: album, titles, stem, check, trouble, masking, headroom, versions, blind, notes, delivery, papers, ears, devices, processors, messages, albums." };
        Option<double?> lose = new("--lose-context") { Description = "Behave after so many seconds as if the graphics driver had been reset.", Hidden = true };
        Option<int?> hands = new("--random-hands") { Description = "Seed of random hands on the window.", Hidden = true };
        Option<bool> trace = new("--trace") { Description = "Write the state of the desk as lines of JSON.", Hidden = true };
        Command verb = new("open", "Opens an album in the window.")
        {
            album, song, stem, device, buffer, play, screenshot, seconds, size, scale, light, dark, times, drawer, lose, hands, trace,
        };
        verb.AddExamples(
            "livestems open Album",
            "livestems open Album --song 2 --stem Bass --play",
            "livestems open Album --screenshot window.png --seconds 8 --device silent --play");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            (int Width, int Height)? wanted = Size(parsed.GetValue(size));
            using ProcessorWatch watch = new(HostingPlaces.OfUser, Processors.Host);
            WindowOptions options = new()
            {
                ProcessorWatch = watch,
                Device = parsed.GetValue(device),
                BufferFrames = parsed.GetValue(buffer),
                Song = opened => SongChoice.From(opened, parsed.GetValue(song))[0],
                Stem = parsed.GetValue(stem),
                Plays = parsed.GetValue(play),
                Screenshot = parsed.GetValue(screenshot),
                Seconds = parsed.GetValue(seconds),
                Width = wanted?.Width,
                Height = wanted?.Height,
                ScalePercent = parsed.GetValue(scale) is { } percent ? Scale(percent) : null,
                Shade = parsed.GetValue(light) ? DeskShade.Light : parsed.GetValue(dark) ? DeskShade.Dark : null,
                RandomSeed = parsed.GetValue(hands),
                Drawer = parsed.GetValue(drawer),
                IsMeasured = parsed.GetValue(times),
                LosesContextAt = parsed.GetValue(lose),
                Trace = parsed.GetValue(trace) ? parsed.InvocationConfiguration.Output : null,
            };
            // Whatever ends the window, what is recorded at the time is kept.
            using EndingSignals ending = new(interruption);
            string summary = AlbumWindow.Run(path, options, ending.Token);
            if (parsed.GetValue(times))
            {
                parsed.InvocationConfiguration.Error.WriteLine(summary);
            }

            return 0;
        });
        return verb;
    }

    private static int Scale(int percent) =>
        percent is >= 100 and <= 300 ? percent : throw new UsageException($"--scale goes from 100 to 300 per cent, not {percent}");

    private static (int, int)? Size(string? text)
    {
        if (text is null)
        {
            return null;
        }

        string[] parts = text.ToLowerInvariant().Split('x');
        return parts.Length == 2 && int.TryParse(parts[0], out int width) && int.TryParse(parts[1], out int height) && width is >= 640 and <= 16_384 && height is >= 400 and <= 16_384
            ? (width, height)
            : throw new UsageException($"--size is WIDTHxHEIGHT such as 1280x800, not '{text}'");
    }
}
