using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.App.Terminal;
using LiveStems.App.Verbs;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Planning;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.App.Playing;

/// <summary>One run of the terminal player: the device, the player on it, what is recorded, and the report at the end.</summary>
/// <param name="songs">The songs of the album.</param>
/// <param name="first">Which of them to begin with.</param>
/// <param name="albumPath">The album's folder or file.</param>
/// <param name="errors">Where news and the report go.</param>
internal sealed class PlayRun(IReadOnlyList<Song> songs, int first, string albumPath, TextWriter errors) : IDisposable
{
    private const string Caution = "Starts dimmed: set your listening level low, then press d. Loud sound harms hearing for good.";

    private readonly string folder = AlbumFile.FolderOf(albumPath);
    private SoundRecording? recording;
    private FirstSoundTap? firstSound;
    private bool hasBegun;

    /// <summary>Plays until the end, a key, or an interruption. What was recorded until then is kept, whatever ends it.</summary>
    /// <exception cref="AudioDeviceException">The device cannot be had.</exception>
    /// <exception cref="AudioFileException">The first song cannot be opened, or the recording could not be written to its end.</exception>
    public void Run(PlayOptions options, MonitorSettings monitor, PlayComparing comparing, CancellationToken interruption)
    {
        int rate = RateChoice.For(songs[first], [.. songs[first].Stems.Select(stem => RateOf(Path.Combine(folder, stem.File)))], null);
        using DeviceKeeper device = new(options.Device, new DeviceSettings(rate, options.BufferFrames));
        errors.WriteLine(device.Message);
        errors.WriteLine(Caution);

        // A terminal that goes away, as when a connection breaks, must not take what was recorded with it.
        using EndingSignals ending = new(interruption);
        try
        {
            using LivePlayer player = new(device, Processors.Catalogue, renderer => Tapped(renderer, options.Record, rate));
            player.SetMonitor(monitor);
            player.Show(songs[first], folder);
            Play(player, device, options, monitor, comparing, ending.Token);
        }
        catch (IOException) when (ending.HasHungUp)
        {
            // Nobody reads the report any more.
        }
        finally
        {
            KeepRecording();
        }

        if (recording?.Failure is { } failure)
        {
            throw new AudioFileException(failure);
        }
    }

    /// <summary>Lets go of the recording; what is not kept by then does not stay.</summary>
    public void Dispose() => recording?.Dispose();

    private IAudioRenderer Tapped(IAudioRenderer renderer, string? record, int rate)
    {
        firstSound = new FirstSoundTap(renderer);
        if (record is null)
        {
            return firstSound;
        }

        RecordingTap tap = new(firstSound);
        recording = new SoundRecording(record, rate);
        tap.Begin(recording);
        return tap;
    }

    private void Play(LivePlayer player, DeviceKeeper device, PlayOptions options, MonitorSettings monitor, PlayComparing comparing, CancellationToken ending)
    {
        PlayControls controls = new(player, songs, first, folder, monitor, new SongMarkers(albumPath), comparing);
        controls.PlayWholeAlbum(options.IsWholeAlbum);
        foreach (string remark in player.Remarks.Union(player.Update()))
        {
            errors.WriteLine(PlainText.Of(remark));
        }

        if (comparing.First is { } scope)
        {
            controls.Compare.Choose(scope, comparing.IsInSong);
        }

        if (options.Loop is { } loop)
        {
            controls.SetLoopIn(loop.Start);
            controls.SetLoopOut(loop.End);
        }

        double start = options.FromSeconds == 0 ? controls.StartSeconds : options.FromSeconds;
        if (start > 0)
        {
            controls.Jump(start);
        }

        hasBegun = true;
        using ProcessorWatch watch = new(HostingPlaces.OfUser, Processors.Host);
        new TerminalPlayer(player, device, controls, recording, watch, errors).Run(options, ending);
        IReadOnlyList<OutsideUse> outside = player.Outside;
        Report(player.Look(), outside);
        FaultLog.Add(HostingPlaces.OfUser, outside, DateTimeOffset.Now);
    }

    // Before anything has played there is nothing to keep, and a file that stands there stays.
    private void KeepRecording()
    {
        if (hasBegun && recording is not null)
        {
            recording.Complete();
            try
            {
                errors.WriteLine(recording.Summary);
            }
            catch (IOException)
            {
                // The terminal has gone; the file has not.
            }
        }
    }

    private void Report(PlayerState state, IReadOnlyList<OutsideUse> outside)
    {
        errors.WriteLine(
            $"{state.Device.Calls} calls, {state.Device.Underruns} underrun{(state.Device.Underruns == 1 ? string.Empty : "s")}; load median {state.Device.ShareAt(0.5) * 100:0.0} %, 99.9 % within {state.Device.ShareAt(0.999) * 100:0.0} %, worst {state.Device.WorstShare * 100:0.0} %; {state.MissedFrames} frames late from disk; {state.Device.CompiledMethods} methods compiled on the audio thread");
        if (state.LoadDrops != default)
        {
            errors.WriteLine($"overload: meters left out {state.LoadDrops.Meters} times, views {state.LoadDrops.Views}, music faded out {state.LoadDrops.Music}");
        }

        if (state.NonFiniteSamples > 0)
        {
            errors.WriteLine($"{state.NonFiniteSamples} sample{(state.NonFiniteSamples == 1 ? " that was" : "s that were")} not finite reached the monitor, which fell silent there");
        }

        foreach (string fault in OutsideText.Faults(outside))
        {
            errors.WriteLine(fault);
        }

        if (firstSound?.Elapsed is { } ago)
        {
            using System.Diagnostics.Process own = System.Diagnostics.Process.GetCurrentProcess();
            errors.WriteLine($"first sound {(DateTime.Now - own.StartTime - ago).TotalSeconds:0.00} s after the start of the program");
        }
    }

    private static int RateOf(string path)
    {
        using IAudioReader reader = AudioFile.Open(path);
        return reader.Info.SampleRate;
    }
}
