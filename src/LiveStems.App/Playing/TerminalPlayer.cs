using System.Diagnostics;
using LiveStems.App.Terminal;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;

namespace LiveStems.App.Playing;

/// <summary>Plays a song in the terminal until it ends or a key says so.</summary>
internal sealed class TerminalPlayer(
    LivePlayer player, DeviceKeeper device, PlayControls controls, SoundRecording? recording, ProcessorWatch watch, TextWriter errors)
{
    private const int LeastColumns = 20;

    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(40);

    private readonly bool hasKeys = !Console.IsInputRedirected;
    private readonly bool hasLine = !Console.IsErrorRedirected;
    private int shownColumns;
    private bool hasToldRecording;

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
            controls.Update();
            foreach (string news in controls.TakeNews())
            {
                Say(news);
            }

            WatchDevice();
            WatchRecording();
            PlayerState state = player.Look();
            Show(hasLine ? StatusLine.From(state, player.Outside, controls, recording, Math.Max(LeastColumns, Console.WindowWidth - 1)) : string.Empty);
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
        controls.Try(() => player.Replace(change.Host.Catalogue));
        foreach (ProcessorNews news in change.News)
        {
            Say(news.ToString());
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

    private void WatchRecording()
    {
        if (recording?.Failure is { } failure && !hasToldRecording)
        {
            hasToldRecording = true;
            Say($"the recording has ended: {failure}");
        }
    }

    private void Say(string text)
    {
        Show(string.Empty);
        errors.WriteLine(PlainText.Of(text));
    }

    private void Show(string text)
    {
        if (!hasLine || (text.Length == 0 && shownColumns == 0))
        {
            return;
        }

        int columns = TextColumns.Of(text);
        Console.Error.Write('\r' + text + new string(' ', Math.Max(0, shownColumns - columns)) + (columns == 0 ? "\r" : string.Empty));
        shownColumns = columns;
    }
}
