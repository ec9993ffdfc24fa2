using System.CommandLine;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.App.Playing;
using LiveStems.App.Terminal;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;

namespace LiveStems.App.Verbs;

/// <summary><c>play</c>: a song live, through its processors, to a sound device.</summary>
internal static class PlayVerb
{
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
        Option<int> slope = new("--slope") { Description = "How steeply the band's edges fall: 24 or 48 dB an octave.", DefaultValueFactory = _ => MonitorSettings.AtStart.BandSlopeDbPerOctave };
        Option<string[]> solo = new("--solo") { Description = "Stems to hear alone." };
        Option<string[]> mute = new("--mute") { Description = "Stems to leave out." };
        Option<double> level = new("--level") { Description = "Monitor level in dB, −60 to 0." };
        Option<double> safety = new("--safety") { Description = "What the safety limiter holds, in dBFS, −30 to −1.", DefaultValueFactory = _ => MonitorSettings.AtStart.SafetyCeilingDbfs };
        Option<bool> full = new("--no-dim") { Description = "Do not start dimmed." };
        Option<string?> record = new("--record") { Description = "Write what the monitor plays to a WAV file." };
        Option<string?> compare = new("--compare") { Description = "What to compare from the start: stems, bus, rough, STEM, STEM/PROCESSOR … as in 'livestems compare'." };
        Option<bool> alone = new("--alone") { Description = "Hear it by itself instead of inside the whole song." };
        Option<string?> reference = new("--reference") { Description = "A finished file to compare the song with." };
        Option<string?> against = new("--against") { Description = "A version of the album to compare the song with; see 'livestems versions'." };
        Option<int> rounds = new("--rounds") { Description = "Rounds of a blind test (key r).", DefaultValueFactory = _ => 10 };
        Command verb = new("play", "Plays a song live: solo, mute, bypass, loop, band-listen, fair comparison and blind test by keys.")
        {
            album, song, wholeAlbum, device, buffer, from, seconds, loop, band, slope, solo, mute, level, safety, full, record, compare, alone, reference, against, rounds,
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
            MonitorSettings monitor = Monitor(parsed.GetValue(level), !parsed.GetValue(full), parsed.GetValue(band), parsed.GetValue(slope), parsed.GetValue(safety));
            PlayOptions options = new(
                parsed.GetValue(from),
                parsed.GetValue(seconds),
                Pair(parsed.GetValue(loop), '-', "--loop is START-END in seconds, such as 20-28"),
                parsed.GetValue(wholeAlbum),
                parsed.GetValue(device),
                parsed.GetValue(buffer),
                parsed.GetValue(record));
            PlayComparing comparing = Comparing(heard[songs[0]], parsed.GetValue(compare), !parsed.GetValue(alone), parsed.GetValue(reference), Against(loaded, loaded.Songs[songs[0]], parsed.GetValue(against), path), parsed.GetValue(rounds));
            using PlayRun run = new(heard, songs[0], path, parsed.InvocationConfiguration.Error);
            run.Run(options, monitor, comparing, interruption);
            return 0;
        });
        return verb;
    }

    private static MonitorSettings Monitor(double levelDb, bool isDimmed, string? band, int slope, double safety)
    {
        if (levelDb is not (>= MonitorSettings.LowestLevelDb and <= MonitorSettings.HighestLevelDb))
        {
            throw new UsageException($"--level goes from −60 to 0 dB, not {levelDb}");
        }

        if (slope is not (24 or 48))
        {
            throw new UsageException($"--slope is 24 or 48 dB an octave, not {slope}");
        }

        if (safety is not (>= MonitorSettings.LowestSafetyCeilingDbfs and <= MonitorSettings.HighestSafetyCeilingDbfs))
        {
            throw new UsageException($"--safety goes from −30 to −1 dBFS, not {safety}");
        }

        MonitorSettings monitor = MonitorSettings.AtStart with { LevelDb = levelDb, IsDimmed = isDimmed, BandSlopeDbPerOctave = slope, SafetyCeilingDbfs = safety };
        if (Pair(band, ',', "--band is CENTRE,OCTAVES, such as 3000,1") is not var (centreHz, octaves))
        {
            return monitor;
        }

        return centreHz is >= MonitorSettings.LowestBandHz and <= MonitorSettings.HighestBandHz && octaves is >= MonitorSettings.NarrowestBandOctaves and <= MonitorSettings.WidestBandOctaves
            ? monitor with { BandListen = true, BandCentreHz = centreHz, BandWidthOctaves = octaves }
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
}
