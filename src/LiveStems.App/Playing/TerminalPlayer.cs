using System.Diagnostics;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;

namespace LiveStems.App.Playing;

/// <summary>Plays a song in the terminal until it ends or a key says so.</summary>
internal sealed class TerminalPlayer(LivePlayer player, DeviceKeeper device, PlayControls controls, ProcessorWatch watch, TextWriter errors)
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(40);

    private readonly bool hasKeys = !Console.IsInputRedirected;
    private readonly bool hasLine = !Console.IsErrorRedirected;
    private int shownLength;

    /// <summary>Plays; returns when done.</summary>
    public void Run(PlayOptions options, CancellationToken interruption)
    {
        PlayKeys keys = new(controls, player);
        if (hasKeys)
        {
            Say("keys  " + string.Join(";  ", keys.Help()));
        }

        player.Play();
        Stopwatch clock = Stopwatch.StartNew();
        while (!interruption.IsCancellationRequested && !keys.WantsToQuit)
        {
            PressKeys(keys);
            TakeNewProcessors();
            IReadOnlyList<string> troubles = player.Update();
            controls.Update();
            foreach (string news in troubles.Concat(controls.TakeNews()))
            {
                Say(news);
            }

            WatchDevice();
            PlayerState state = player.Look();
            Show(StatusLine.From(state, controls));
            bool hasEnded = options.Seconds is { } seconds
                ? clock.Elapsed.TotalSeconds >= seconds
                : controls.Loop is not ({ }, { }) && !state.HasFollowing && state.LengthSeconds > 0 && state.PositionSeconds >= state.LengthSeconds;
            if (hasEnded && (options.Seconds is not null || !hasKeys))
            {
                break;
            }

            if (hasEnded && state.IsPlaying)
            {
                player.Stop();
            }

            Thread.Sleep(BetweenLooks);
        }

        player.Stop();
        Thread.Sleep(BetweenLooks);
        Show(string.Empty);
    }

    private void PressKeys(PlayKeys keys)
    {
        while (hasKeys && Console.KeyAvailable)
        {
            keys.Press(Console.ReadKey(intercept: true));
        }
    }

    private void TakeNewProcessors()
    {
        if (watch.TakeChange() is not { } change)
        {
            return;
        }

        Processors.Use(change.Host);
        player.Replace(change.Host.Catalogue);
        foreach (string news in change.News)
        {
            Say(news);
        }
    }

    private void WatchDevice()
    {
        KeptDeviceState before = device.State;
        if (device.Update() is { } now && now != before && now is KeptDeviceState.Lost or KeptDeviceState.Returned)
        {
            Say(device.Message);
        }
    }

    private void Say(string text)
    {
        Show(string.Empty);
        errors.WriteLine((hasLine ? "\r" : string.Empty) + text);
    }

    private void Show(string text)
    {
        if (!hasLine || (text.Length == 0 && shownLength == 0))
        {
            return;
        }

        int width = Math.Max(20, Console.WindowWidth - 1);
        string fitted = text.Length > width ? text[..width] : text;
        Console.Error.Write('\r' + fitted.PadRight(shownLength));
        shownLength = fitted.Length;
    }
}
