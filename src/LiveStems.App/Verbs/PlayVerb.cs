using System.CommandLine;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.App.Playing;
using LiveStems.App.Terminal;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Planning;
using LiveStems.Files.Reading;

namespace LiveStems.App.Verbs;

/// <summary><c>play</c>: a song live, through its processors, to a sound device.</summary>
internal static class PlayVerb
{
    private const string Caution = "Starts dimmed: set your listening level low, then press d. Loud sound harms hearing for good.";

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> song = CommonOptions.Song();
        Option<string?> device = new("--device") { Description = "A device by number or part of its name, or 'silent'; see 'livestems devices'." };
        Option<int> buffer = new("--buffer") { Description = "Frames the device asks for at a time, 32 to 4096.", DefaultValueFactory = _ => DeviceSettings.UsualBufferFrames };
        Option<double> from = new("--from") { Description = "Where to start, in seconds." };
        Option<bool> wholeAlbum = new("--whole-album") { Description = "Play on through the songs that follow, as they stand on the album: with its gaps, cuts, fades and cross-fades." };
        Option<double?> seconds = new("--seconds") { Description = "How long to play." };
        Option<string?> loop = new("--loop") { Description = "A stretch to repeat, START-END in seconds." };
        Option<string?> band = new("--band") { Description = "Hear one band only: CENTRE,OCTAVES such as 3000,1." };
        Option<string[]> solo = new("--solo") { Description = "Stems to hear alone." };
        Option<string[]> mute = new("--mute") { Description = "Stems to leave out." };
        Option<double> level = new("--level") { Description = "Monitor level in dB, −60 to 0." };
        Option<bool> full = new("--no-dim") { Description = "Do not start dimmed." };
        Option<string?> record = new("--record") { Description = "Write what the monitor plays to a WAV file." };
        Option<string?> compare = new("--compare") { Description = "What to compare from the start: stems, bus, rough, STEM, STEM/PROCESSOR … as in 'livestems compare'." };
        Option<bool> alone = new("--alone") { Description = "Hear it by itself instead of inside the whole song." };
        Option<string?> reference = new("--reference") { Description = "A finished file to compare the song with." };
        Option<string?> against = new("--against") { Description = "A version of the album to compare the song with; see 'livestems versions'." };
        Option<int> rounds = new("--rounds") { Description = "Rounds of a blind test (key r).", DefaultValueFactory = _ => 10 };
        Command verb = new("play", "Plays a song live: solo, mute, bypass, loop, band-listen, fair comparison and blind test by keys.")
        {
            album, song, wholeAlbum, device, buffer, from, seconds, loop, band, solo, mute, level, full, record, compare, alone, reference, against, rounds,
        };
        verb.AddExamples(
            "livestems play Album --song 1",
            "livestems play Album --song \"Foghorn\" --solo \"Lead voice\" --band 7000,0.5 --loop 20-28",
            "livestems play Album --whole-album",
            "livestems play Album --song 1 --compare \"Lead voice/de-esser\" --alone",
            "livestems play Album --song 1 --device silent --seconds 10 --record heard.wav");
        verb.SetAction(parsed =>
        {
            LivePlayer.PrepareAhead();
            string path = parsed.GetRequiredValue(album);
            Album loaded = AlbumFile.Load(path, Processors.Catalogue);
            IReadOnlyList<int> songs = SongChoice.From(loaded, parsed.GetValue(song) ?? "1");
            Song[] heard = [.. loaded.Songs];
            heard[songs[0]] = Listening(heard[songs[0]], parsed.GetValue(solo) ?? [], parsed.GetValue(mute) ?? []);
            PlayOptions options = new(
                parsed.GetValue(from),
                parsed.GetValue(seconds),
                Pair(parsed.GetValue(loop), '-', "--loop is START-END in seconds, such as 20-28"),
                Pair(parsed.GetValue(band), ',', "--band is CENTRE,OCTAVES, such as 3000,1"),
                parsed.GetValue(level),
                !parsed.GetValue(full));
            DeviceRequest request = new(parsed.GetValue(device), parsed.GetValue(buffer), parsed.GetValue(record), parsed.GetValue(wholeAlbum));
            PlayComparing comparing = Comparing(heard[songs[0]], parsed.GetValue(compare), !parsed.GetValue(alone), parsed.GetValue(reference), Against(loaded, loaded.Songs[songs[0]], parsed.GetValue(against), path), parsed.GetValue(rounds));
            Play(heard, songs[0], path, options, comparing, request, parsed.InvocationConfiguration.Error, interruption);
            return 0;
        });
        return verb;
    }

    private static void Play(Song[] songs, int first, string albumPath, PlayOptions options, PlayComparing comparing, DeviceRequest request, TextWriter errors, CancellationToken interruption)
    {
        Song song = songs[first];
        string folder = AlbumFile.FolderOf(albumPath);
        int rate = RateChoice.For(song, [.. song.Stems.Select(stem => RateOf(Path.Combine(folder, stem.File)))], null);
        using DeviceKeeper device = new(request.Device, new DeviceSettings(rate, request.BufferFrames));
        errors.WriteLine(device.Message);
        errors.WriteLine(Caution);
        RecordingTap? recording = null;
        try
        {
            FirstSoundTap? firstSound = null;
            IAudioRenderer Tapped(IAudioRenderer renderer)
            {
                firstSound = new FirstSoundTap(renderer);
                return request.Record is null ? firstSound : recording = new RecordingTap(firstSound, request.Record, rate);
            }

            using (LivePlayer player = new(device, Processors.Catalogue, Tapped))
            {
                MonitorSettings monitor = Monitor(options);
                player.SetMonitor(monitor);
                player.Show(song, folder);
                PlayControls controls = new(player, songs, first, folder, monitor, new SongMarkers(albumPath), comparing);
                controls.PlayWholeAlbum(request.IsWholeAlbum);
                foreach (string remark in player.Remarks)
                {
                    errors.WriteLine(remark);
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

                double start = options.FromSeconds == 0 && request.IsWholeAlbum ? song.Edges.TrimStartSeconds : options.FromSeconds;
                if (start > 0)
                {
                    controls.Jump(start);
                }

                using ProcessorWatch watch = new(HostingPlaces.OfUser, Processors.Host);
                new TerminalPlayer(player, device, controls, watch, errors).Run(options, interruption);
                PlayerState end = player.Look();
                Report(errors, end, firstSound!);
                FaultLog.Add(HostingPlaces.OfUser, end.Outside, DateTimeOffset.Now);
            }

            recording?.Complete();
        }
        finally
        {
            recording?.Dispose();
        }
    }

    private static void Report(TextWriter errors, PlayerState state, FirstSoundTap firstSound)
    {
        errors.WriteLine(
        $"{state.Device.Calls} calls, {state.Device.Underruns} underruns; load median {state.Device.ShareAt(0.5) * 100:0.0} %, 99.9 % within {state.Device.ShareAt(0.999) * 100:0.0} %, worst {state.Device.WorstShare * 100:0.0} %; {state.MissedFrames} frames late from disk");
        if (state.LoadDrops != default)
        {
            errors.WriteLine($"overload: meters left out {state.LoadDrops.Meters} times, views {state.LoadDrops.Views}, music faded out {state.LoadDrops.Music}");
        }

        foreach (string fault in OutsideText.Faults(state.Outside))
        {
            errors.WriteLine(fault);
        }

        if (firstSound.Elapsed is { } ago)
        {
            TimeSpan running = DateTime.Now - System.Diagnostics.Process.GetCurrentProcess().StartTime;
            errors.WriteLine($"first sound {(running - ago).TotalSeconds:0.00} s after the start of the program");
        }
    }

    private static MonitorSettings Monitor(PlayOptions options)
    {
        if (options.LevelDb is not (>= -60 and <= 0))
        {
            throw new UsageException($"--level goes from −60 to 0 dB, not {options.LevelDb}");
        }

        MonitorSettings monitor = MonitorSettings.AtStart with { LevelDb = options.LevelDb, IsDimmed = options.IsDimmed };
        if (options.Band is not { } band)
        {
            return monitor;
        }

        return band is { CentreHz: >= 20 and <= 20_000, WidthOctaves: >= 1.0 / 12 and <= 4 }
            ? monitor with { BandListen = true, BandCentreHz = band.CentreHz, BandWidthOctaves = band.WidthOctaves }
            : throw new UsageException("--band goes from 20 to 20000 Hz and from 0.083 to 4 octaves");
    }

    private static VersionScope? Against(Album album, Song song, string? version, string path) =>
        version is null ? null : CompareVerb.Version(album, song, version, path);

    private static PlayComparing Comparing(Song song, string? compare, bool isInSong, string? reference, VersionScope? version, int rounds)
    {
        if (rounds is < 1 or > BlindTest.MostRounds)
        {
            throw new UsageException($"--rounds goes from 1 to {BlindTest.MostRounds}, not {rounds}");
        }

        CompareScope? file = reference is null ? null : new FileScope(new ComparedFile(Path.GetFullPath(reference), 0), Path.GetFileName(reference));
        CompareScope? first = compare is null ? file ?? version : ScopeText.Parse(song, compare);
        if (first is not null)
        {
            // What cannot be compared is told before anything sounds.
            _ = new Comparison(first, isInSong).Of(song);
        }

        return new PlayComparing(first, isInSong, [.. new[] { file, version }.OfType<CompareScope>()], rounds);
    }

    private static Song Listening(Song song, string[] solo, string[] mute)
    {
        foreach (string name in solo)
        {
            int index = AlbumAddress.StemIndex(song, name);
            song = song with { Stems = song.Stems.SetItem(index, song.Stems[index] with { Placement = song.Stems[index].Placement with { Soloed = true } }) };
        }

        foreach (string name in mute)
        {
            int index = AlbumAddress.StemIndex(song, name);
            song = song with { Stems = song.Stems.SetItem(index, song.Stems[index] with { Placement = song.Stems[index].Placement with { Muted = true } }) };
        }

        return song;
    }

    private static int RateOf(string path)
    {
        using IAudioReader reader = AudioFile.Open(path);
        return reader.Info.SampleRate;
    }

    private static (double, double)? Pair(string? text, char separator, string otherwise)
    {
        if (text is null)
        {
            return null;
        }

        string[] parts = text.Split(separator);
        return parts.Length == 2 && double.TryParse(parts[0], out double first) && double.TryParse(parts[1], out double second) && first >= 0 && second > 0
            && (separator != '-' || second > first)
            ? (first, second)
            : throw new UsageException($"{otherwise}, not '{text}'");
    }

    private sealed record DeviceRequest(string? Device, int BufferFrames, string? Record, bool IsWholeAlbum);
}
