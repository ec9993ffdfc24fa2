using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Masking;
using LiveStems.Analysis.Spectra;
using LiveStems.Analysis.Trouble;
using LiveStems.Files.Reading;

namespace LiveStems.View.Desk;

/// <summary>What the harshness search and the masking map say about the songs, as far as they were asked.</summary>
public sealed class FindModel
{
    private readonly AlbumDesk desk;
    private readonly Dictionary<string, TroubleReport> reports = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (Song Heard, MaskingMap AsDelivered, MaskingMap Corrected)> maps = new(StringComparer.Ordinal);

    private readonly AlikeOnce atTheBus = new(SoundAlike.AtTheBus);
    private readonly AlikeOnce asDelivered = new(SoundAlike.AsDelivered);
    private readonly Dictionary<string, float[]> levels = new(StringComparer.Ordinal);

    internal FindModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>Sound pressure level in dB at which pink noise of −20 dBFS RMS is heard; from the calibration where there is one.</summary>
    public double ListeningLevelDb => desk.Exposure.FullScaleDbA is { } fullScale
        ? Math.Clamp(fullScale + TroubleSettings.ReferenceDbfs, 50, 100)
        : new TroubleSettings(StemRole.Other).ListeningLevelDb;

    /// <summary>What was found in a stem of the song that is shown; null before the search.</summary>
    public TroubleReport? Of(int stem) => reports.GetValueOrDefault(KeyOf(desk.Song.Stems[stem]));

    /// <summary>Who covers whom in the song that is shown, as delivered and with its corrections; null before it was asked.</summary>
    public (MaskingMap AsDelivered, MaskingMap Corrected)? Masking =>
        maps.TryGetValue(desk.Song.Title, out (Song Heard, MaskingMap AsDelivered, MaskingMap Corrected) found) ? (found.AsDelivered, found.Corrected) : null;

    /// <summary>True when what reaches the song bus sounds other than when <see cref="Masking"/> was asked.</summary>
    /// <param name="isCorrected">True for the map with corrections; false for the one as delivered, where corrections do not count.</param>
    public bool IsMaskingOld(bool isCorrected) => maps.TryGetValue(desk.Song.Title, out (Song Heard, MaskingMap AsDelivered, MaskingMap Corrected) found)
        && !(isCorrected ? atTheBus : asDelivered).Are(found.Heard, desk.Song);

    /// <summary>True when the map that <see cref="Covering"/> is from no longer holds.</summary>
    public bool IsCoveringOld => Covering is { } shown && (Masking is not { } both || (ReferenceEquals(shown.Map, both.AsDelivered) ? IsMaskingOld(false) : !ReferenceEquals(shown.Map, both.Corrected) || IsMaskingOld(true)));

    /// <summary>Counts up whenever anything was found or another thing is shown.</summary>
    public long Revision { get; private set; }

    /// <summary>The finding that the drawer is at; null for none.</summary>
    public TroubleFinding? Shown { get; private set; }

    /// <summary>Which stem is shown as covered by which other; null for none.</summary>
    public Covering? Covering { get; private set; }

    /// <summary>Long-term levels of the covering stem at the points of the spectrum, as delivered; empty while unknown.</summary>
    public IReadOnlyList<float> CoveringDb => Covering is { } shown && StemOf(shown.By) is { } stem && levels.TryGetValue(KeyOf(stem), out float[]? known) ? known : [];

    /// <summary>Shows a finding on the spectrum and the lanes, or none.</summary>
    public void Show(TroubleFinding? finding)
    {
        Shown = finding;
        Revision++;
    }

    /// <summary>Shows on the spectrum how a stem is covered by another, or nothing.</summary>
    public void ShowCovering(Covering? covering)
    {
        Covering = covering;
        Revision++;
        if (covering is not null && StemOf(covering.By) is { } stem && !levels.ContainsKey(KeyOf(stem)))
        {
            Measure(stem);
        }
    }

    /// <summary>
    /// Shows the next stem that covers the chosen one, those that do so most first, then none; asks for the masking map where
    /// there is none yet. Null, or what is wrong.
    /// </summary>
    public string? ShowNextCovering()
    {
        if (desk.SelectedStem is not { } stem)
        {
            return "choose a stem first: then the spectrum shows which others cover it";
        }

        if (Masking is not { } both)
        {
            _ = Map();
            return null;
        }

        IReadOnlyList<Covering> all = Desk.Covering.OfStem(both.Corrected, stem.Name);
        int now = Covering is { } shown && shown.Covered == stem.Name ? all.ToList().FindIndex(each => each.By == shown.By) : -1;
        ShowCovering(now + 1 < all.Count ? all[now + 1] : null);
        return null;
    }

    /// <summary>Searches every stem of the song that is shown for what rings, hisses, booms and clicks.</summary>
    public DeskJob Search()
    {
        Song song = desk.Song;
        string folder = desk.Folder;
        double level = ListeningLevelDb;
        return desk.Jobs.Start(
            "find",
            $"searching {song.Title}",
            (progress, cancellation) =>
            {
                List<(string Key, TroubleReport Report)> found = [];
                foreach (Stem stem in song.Stems)
                {
                    cancellation.ThrowIfCancellationRequested();
                    using IAudioReader reader = AudioFile.Open(AlbumPath.OnDisk(folder, stem.File));
                    ShareWithin share = new(progress, found.Count, song.Stems.Length);
                    found.Add((KeyOf(stem), TroubleSearch.Search(reader, new TroubleSettings(stem.Role, level), share, cancellation)));
                }

                return found;
            },
            found =>
            {
                found.ForEach(each => reports[each.Key] = each.Report);
                Revision++;
                desk.Say(MessageKind.Remark, $"{song.Title}: {found.Sum(each => each.Report.Findings.Length)} findings");
            });
    }

    /// <summary>Listens who covers whom in the song that is shown.</summary>
    public DeskJob Map()
    {
        Song song = desk.Song;
        string folder = desk.Folder;
        double level = ListeningLevelDb;
        return desk.Jobs.Start(
            "masking",
            $"listening who covers whom in {song.Title}",
            (progress, cancellation) => (
                AsDelivered: SongMasking.Of(song, folder, false, level, desk.Catalogue, new ShareWithin(progress, 0, 2), cancellation),
                Corrected: SongMasking.Of(song, folder, true, level, desk.Catalogue, new ShareWithin(progress, 1, 2), cancellation)),
            both =>
            {
                maps[song.Title] = (song, both.AsDelivered, both.Corrected);
                Revision++;
            });
    }

    private void Measure(Stem stem)
    {
        string path = AlbumPath.OnDisk(desk.Folder, stem.File);
        desk.Jobs.Start(
            "covering",
            $"levels of {stem.Name}",
            (progress, cancellation) => CurveOf(FileSpectrum.Measure(path, SpectrumModel.BandsPerOctave, SpectrumChannel.Both, false, progress.Report, cancellation).Spectrum.Bands),
            curve =>
            {
                levels[KeyOf(stem)] = curve;
                Revision++;
            });
    }

    // The levels of a measurement at the points of the live spectrum.
    private static float[] CurveOf(IReadOnlyList<BandLevel> bands) =>
    [
        .. SpectrumModel.Frequencies.Select(frequency => bands.MinBy(band => Math.Abs(Math.Log(band.Band.MidHz / frequency))) is { } nearest
            ? (float)nearest.MeanDbfs
            : float.NegativeInfinity),
    ];

    private Stem? StemOf(string name) => desk.Song.Stems.FirstOrDefault(stem => stem.Name == name);

    /// <summary>
    /// Adds the correction that a finding suggests to the stem's chain: bypassed until it is switched on, with what was found
    /// as its reason. Null, or what is wrong.
    /// </summary>
    public string? Take(int stem, TroubleFinding finding) =>
        desk.Edit(album => SuggestedSlot.Add(album, desk.SongIndex, stem, finding, desk.Catalogue).Album);

    // A stem is what its file is: gains and chains do not matter to the search.
    private static string KeyOf(Stem stem) => stem.Sha256.Length > 0 ? stem.Sha256 : stem.File;
}
